package scenario

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"padturn/model"
)

func TestTmp(t *testing.T) {
	t0 := time.Now()
	tries := 0
	for s := range uint64(1000) {
		r := &random{dice: dice{rand.New(rand.NewPCG(s, 1))}}
		r.make()
		_, rep := model.NewProblem(r.in)
		if !rep.OK() {
			tries++
			if tries < 30 {
				fmt.Println(rep.Errors[0])
			}
		}
	}
	fmt.Println(tries, time.Since(t0))
}
