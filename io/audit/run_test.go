package audit

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// jobsOf makes jobs A, B, C and so on of one mix at 10 gal/ac.
func jobsOf(acres ...int64) []*job {
	m := &mix{name: "mix"}
	var list []*job
	for i, a := range acres {
		list = append(list, &job{name: string(rune('A' + i)), mix: m, acres: whole(a), gpa: whole(10), left: new(big.Rat)})
	}
	return list
}

func dayOf(split string, jobs []*job) *day {
	return &day{set: &model.Settings{Split: split, ShareMaxMin: *n(15)}, jobOrder: jobs}
}

func TestLayOut(t *testing.T) {
	cases := []struct {
		name, split string
		acres       []int64
		want        string
	}{
		{"one load", "even", []int64{60}, "A=60.0000"},
		{"exactly two loads", "even", []int64{120}, "A=60.0000 A=60.0000"},
		{"equal thirds", "even", []int64{160}, "A=53.3333 A=53.3333 A=53.3333"},
		{"full first", "full_first", []int64{160}, "A=60.0000 A=60.0000 A=40.0000"},
		{"end of one, start of the next", "even", []int64{70, 20}, "A=45.0000 A=25.0000;B=20.0000"},
		{"meets between two loads", "even", []int64{60, 60}, "A=60.0000 B=60.0000"},
		{"a job within a load", "full_first", []int64{50, 5, 50}, "A=50.0000;B=5.0000;C=5.0000 C=45.0000"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			jobs := jobsOf(c.acres...)
			var got []string
			for _, shares := range dayOf(c.split, jobs).layOut(&sprayer{tank: whole(600)}, jobs) {
				got = append(got, listed(shares))
			}
			assert.Equal(t, c.want, strings.Join(got, " "))
		})
	}
}

// Jobs A and B, 60 and 30 ac, are one run of two loads of 45 ac. What is left
// of it explains the loads that we see, and no others.
func TestRunWithLoadsMissing(t *testing.T) {
	cases := []struct {
		name  string
		seen  map[int]int64 // job to acres of the one load that was filled
		left  []int64
		clean bool
	}{
		{"the tail is left", map[int]int64{0: 45}, []int64{15, 30}, true},
		{"the head is left", map[int]int64{0: 15, 1: 30}, []int64{45, 0}, true},
		{"another size", map[int]int64{0: 44}, []int64{16, 30}, false},
		{"nothing is left to explain it", map[int]int64{0: 45}, []int64{0, 0}, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			jobs := jobsOf(60, 30)
			s := &sprayer{name: "S1", tank: whole(600)}
			l := &load{id: "S1-1", sprayer: s, mix: jobs[0].mix, run: jobs}
			for i, j := range jobs {
				j.DriveMin = n(5)
				j.left = whole(c.left[i])
				if acres, ok := c.seen[i]; ok {
					l.parts = append(l.parts, &part{job: j, listed: whole(acres)})
					j.loads = []*load{l}
				}
			}
			a := &audit{d: dayOf("even", jobs)}
			for _, r := range runs([]*load{l}) {
				a.checkLayout(s, r)
			}
			assert.Equal(t, c.clean, len(a.found) == 0, "found %v", a.found)
		})
	}
}
