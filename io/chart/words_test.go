package chart

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"padturn/io/planfile"
)

// recorder keeps the boxes that texts take, and the bars that they stand in.
type recorder struct {
	noCanvas
	faces *faces
	texts []written
}

type written struct {
	box
	text string
}

func (r *recorder) text(t label) {
	const up, down = 0.76, 0.2
	length := r.faces.width(t.text, t.size, t.bold)
	along := map[anchor]float64{start: 0, middle: -length / 2, end: -length}[t.anchor]
	b := box{t.x + along, t.y - up*t.size, length, (up + down) * t.size}
	if t.turned {
		b = box{t.x - up*t.size, t.y - along - length, (up + down) * t.size, length}
	}
	r.texts = append(r.texts, written{b, t.text})
}

// problems lists texts that leave the page or meet each other.
func problems(d *planfile.Document) []string {
	r := &recorder{faces: newFaces()}
	s := newSheet(r, d)
	s.draw()
	var found []string
	slices.SortStableFunc(r.texts, func(a, b written) int { return int(a.y - b.y) })
	for i, a := range r.texts {
		if a.x < 0 || a.y < 0 || a.right() > s.clock.page || a.bottom() > s.y {
			found = append(found, fmt.Sprintf("%q leaves the page", a.text))
		}
		for _, b := range r.texts[i+1:] {
			if b.y > a.bottom()+1 {
				break
			}
			const grace = 0.1
			if a.x+grace < b.right() && b.x+grace < a.right() && a.y+grace < b.bottom() && b.y+grace < a.bottom() {
				found = append(found, fmt.Sprintf("%q meets %q", a.text, b.text))
			}
		}
	}
	return found
}

func TestTextsNeverMeetOrSpill(t *testing.T) {
	tests := map[string]*planfile.Document{
		"long": planOf(t, "long"), "short": planOf(t, "short"), "empty": planOf(t, "empty"), "nothing": {},
		"3 sprayers": crowded(3, 20, 1, 4), "40 sprayers, 400 loads": crowded(40, 400, 6, 12),
		"100 sprayers, 400 loads, 40 products": crowded(100, 400, 10, 40), "1 bay, 400 loads": crowded(8, 400, 1, 1),
	}
	for name, d := range tests {
		assert.Empty(t, problems(d), name)
	}
}

// TestAnyNamesFit: whatever things are called and however times lie, texts keep
// clear of each other and the SVG is XML.
func TestAnyNamesFit(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := crowded(rapid.IntRange(1, 5).Draw(rt, "sprayers"), rapid.IntRange(1, 25).Draw(rt, "loads"),
			rapid.IntRange(1, 3).Draw(rt, "bays"), 2)
		name := rapid.StringN(1, 40, 80)
		d.Products[0].Product = name.Draw(rt, "product")
		for i := range d.Stock {
			d.Stock[i].Product = d.Products[0].Product
			d.Stock[i].Level = planfile.Number(rapid.Int64Range(-one, 1<<62).Draw(rt, "level"))
		}
		for i := range d.Loads {
			d.Loads[i].Mix = name.Draw(rt, "mix")
		}
		d.Holds[1].To = planfile.Time(rapid.Int64Range(int64(d.Holds[1].From)+1, 200_000).Draw(rt, "hold"))
		for _, p := range problems(d) {
			rt.Errorf("%s", p)
		}
		wellFormed(rt, SVG(d))
	})
}
