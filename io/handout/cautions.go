package handout

import (
	"fmt"
	"slices"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

// signalWords from the weakest to the strictest.
var signalWords = []string{"CAUTION", "WARNING", "DANGER"}

// Caution is something to keep in mind; a strong one stands out.
type Caution struct {
	Text   string
	Strong bool
}

// sheetCautions lists what a crew has to keep in mind at this load.
func (w *writer) sheetCautions(l planfile.Load, s Sheet) []Caution {
	products := w.inTank(l)
	jarTest := ""
	if s.JarTest {
		jarTest = "JAR TEST first: no load of this mix is known from before. Stop if it separates, gels, heats or clumps."
	}
	var all []Caution
	for _, c := range []Caution{
		{jarTest, true}, {restrictedCaution(products), true}, {signalCaution(products), true}, {ppeCaution(products), false},
		{reiCaution, false}, {tankLifeCaution(l, products), false}, {w.windCaution(products), false}, {generalCaution, false},
	} {
		if c.Text != "" {
			all = append(all, c)
		}
	}
	return all
}

const reiCaution = "REI: ______ h, the longest of the labels in the tank; fill in and tell the customer."

const generalCaution = "The label is the law; this sheet is worked out, it is not an approved mix. Safety data sheets at the pad. " +
	"Keep the backflow gap, stay with the fill, keep to the containment. Meter or weigh every amount."

// inTank lists the products of a load, its carrier too.
func (w *writer) inTank(l planfile.Load) []*substance {
	var out []*substance
	for _, s := range l.Steps {
		if p := w.products[s.Product]; p != nil && !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

func signalCaution(products []*substance) string {
	strictest, by := -1, []string(nil)
	for _, p := range products {
		rank := slices.IndexFunc(signalWords, func(word string) bool {
			return strings.HasPrefix(strings.ToUpper(p.SignalWord), word)
		})
		if rank > strictest {
			strictest, by = rank, nil
		}
		if rank >= 0 && rank == strictest {
			by = append(by, p.Product.Product)
		}
	}
	if strictest < 0 {
		return "Signal word: none in the product list; read every label."
	}
	return fmt.Sprintf("%s: signal word of %s; it counts for the whole mix.", signalWords[strictest], strings.Join(by, ", "))
}

func ppeCaution(products []*substance) string {
	var parts []string
	for _, p := range products {
		if p.PPE != "" {
			parts = append(parts, p.PPE+" ("+p.Product.Product+")")
		}
	}
	if len(parts) == 0 {
		return "PPE: none in the product list; wear what every label asks for."
	}
	return "PPE: " + strings.Join(parts, "; ") + "; and what every label asks for."
}

func restrictedCaution(products []*substance) string {
	var names []string
	for _, p := range products {
		if p.Restricted {
			names = append(names, p.Product.Product)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "RESTRICTED USE, only by or under a certified applicator: " + strings.Join(names, ", ") + ". Fill in the record."
}

func tankLifeCaution(l planfile.Load, products []*substance) string {
	var least *substance
	for _, p := range products {
		if p.TankLifeS != nil && (least == nil || *p.TankLifeS < *least.TankLifeS) {
			least = p
		}
	}
	if least == nil {
		return ""
	}
	by := model.Clock(l.Start) + model.Clock(*least.TankLifeS)
	return fmt.Sprintf("Spray out by %s: tank life of %s.", by.HHMM(), least.Product.Product)
}

func (w *writer) windCaution(products []*substance) string {
	var least *substance
	for _, p := range products {
		if p.MaxWindMph != nil && (least == nil || *p.MaxWindMph < *least.MaxWindMph) {
			least = p
		}
	}
	if least == nil {
		return ""
	}
	speed := least.MaxWindMph.String() + " mph"
	if w.metric {
		kmh := model.Decimal(*least.MaxWindMph) / 1_000_000 * 1_609_344 // 1 mile is 1.609344 km
		speed += " (" + kmh.Fixed(1) + " km/h)"
	}
	return fmt.Sprintf("No spraying in wind above %s (%s).", speed, least.Product.Product)
}
