package planfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestHowGood(t *testing.T) {
	n := func(whole int64) Number { return Number(whole * 1_000_000_000) }
	bound := "It is at most 11.1 % ($10.00) above the best possible under these inputs."
	for _, row := range []struct {
		name   string
		search Search
		left   int64
		want   string
	}{
		{"proved", Search{Status: "proved", BoundDollars: n(100)}, 0, "Proved best possible under these inputs."},
		{"bounded", Search{Status: "bounded", BoundDollars: n(90), GapDollars: n(10)}, 0, bound},
		{"bounded, a part unavoidable", Search{Status: "bounded", BoundDollars: n(90), GapDollars: n(10), UnavoidableDollars: n(60)}, 0,
			bound + " Of its cost $60.00 is paid by every plan, whatever the order."},
		{"bounded, work left", Search{Status: "bounded", BoundDollars: n(90), GapDollars: n(10)}, 5,
			bound + " That no plan sprays more is not proved."},
		{"weak", Search{Status: "bounded", BoundDollars: n(20), GapDollars: n(80)}, 0,
			"How far it is from the best possible is not known well: no plan costs less than $20.00, and the best one may be anywhere from there to this one."},
		{"weak, in file order", Search{Status: "bounded", BoundDollars: n(20), GapDollars: n(80), KeepOrder: true}, 0,
			"How far it is from the best possible among plans that keep each sprayer's jobs in file order is not known well: no plan costs less than $20.00, and the best one may be anywhere from there to this one."},
		{"costs nothing", Search{Status: "bounded"}, 0, "It costs nothing, so no plan costs less."},
		{"no bound", Search{Status: "bounded", GapDollars: n(100)}, 0,
			"How far it is from the best possible is not known: no useful lower bound was found."},
		{"stopped", Search{Status: "interrupted", BoundDollars: n(90), GapDollars: n(10)}, 0,
			"The search was stopped: this is the best plan found until then. " + bound},
	} {
		t.Run(row.name, func(t *testing.T) {
			cost := Cost{Dollars: row.search.BoundDollars + row.search.GapDollars}
			d := &Document{Search: row.search, Totals: Totals{Cost: cost, LeftWeight: n(row.left)}}
			assert.Equal(t, row.want, strings.Join(d.HowGood(), " "))
		})
	}
}
