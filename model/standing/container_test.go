package standing

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

func gal(n int64) model.Decimal { return model.WholeDecimal(n) }

func TestRowsOfLots(t *testing.T) {
	tests := []struct {
		name string
		lots []lot
		take model.Decimal
		want []model.StockRow
		miss model.Decimal
	}{
		{"opened first, then full ones", []lot{{"jug", gal(2), gal(3), gal(1)}}, gal(4), []model.StockRow{
			{Product: "p", Container: "jug", Size: gal(2), Full: gal(1), Open: model.Some(gal(1))},
		}, 0},
		{"the opened one of a later row before full ones", []lot{{"jug", gal(2), gal(3), 0}, {"jug", gal(5), gal(1), gal(4)}}, gal(5), []model.StockRow{
			{Product: "p", Container: "jug", Size: gal(2), Full: gal(2), Open: model.Some(gal(1))},
			{Product: "p", Container: "jug", Size: gal(5), Full: gal(1)},
		}, 0},
		{"bulk is one tank", []lot{{"bulk", gal(900), 0, gal(100)}, {"bulk", gal(480), gal(1), 0}}, gal(130), []model.StockRow{
			{Product: "p", Container: "bulk", Size: gal(900), Full: 0, Open: model.Some(gal(450))},
		}, 0},
		{"none left keeps a row", []lot{{"jug", gal(2), gal(1), 0}}, gal(3), []model.StockRow{
			{Product: "p", Container: "jug", Size: gal(2), Full: 0},
		}, gal(1)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := store{kind: tt.lots[0].kind, size: tt.lots[0].size, lots: tt.lots}
			assert.Equal(t, tt.miss, s.takeLots(tt.take))
			assert.Equal(t, tt.want, s.rows("p"))
		})
	}
}

func TestWhichContainerGoesOnNext(t *testing.T) {
	full, opened, early := &container{size: gal(9), left: gal(9)}, &container{left: gal(3), opened: 2}, &container{left: gal(5), opened: 1}
	s := store{apart: true, containers: []*container{full, opened, early}, opened: 2}
	assert.Same(t, early, s.next(100), "the one opened earliest")
	early.hanging = true
	assert.Same(t, opened, s.next(100))
	opened.freeFrom = 200
	assert.Same(t, full, s.next(100), "a full one where no opened one is free")
	assert.Same(t, opened, s.next(200))
	opened.left, full.left = 0, slack
	assert.Nil(t, s.next(200), "empty ones don't count")
}
