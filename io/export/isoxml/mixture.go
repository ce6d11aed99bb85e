package isoxml

import (
	"fmt"
	"math/big"

	"padturn/io/planfile"
	"padturn/model"
)

// recipeMl is how much spray a recipe makes, in ml: so much that rounding its
// parts to whole millilitres and grams changes none by more than one in ten
// thousand at the lightest rates in use.
const recipeMl = 100_000_000

// maxLong is the largest number that the format holds.
const maxLong = 1<<31 - 1

// mixture adds the mix of a job, at the job's spray volume, with its recipe:
// the carrier, then the products in adding order. A load of the job tells how
// much of the spray is carrier.
func (w *writer) mixture(j *planfile.Job, l *planfile.Load) (string, error) {
	key := j.Mix + "\x00" + j.GPA.String()
	if id, known := w.products[key]; known {
		return id, nil
	}
	relations := []relation{}
	if share := new(big.Rat).Quo(rat(l.CarrierGal), rat(l.Gal)); share.Sign() > 0 {
		ml, err := whole(share.Mul(share, big.NewRat(recipeMl, 1)))
		if err != nil {
			return "", fmt.Errorf("mix %s: %w", j.Mix, err)
		}
		relations = append(relations, relation{w.product(l.Carrier, volumeContent), ml})
	}
	for _, in := range w.recipe(j.Mix) {
		r, err := w.ingredient(in, j.GPA)
		if err != nil {
			return "", fmt.Errorf("mix %s, %s: %w", j.Mix, in.Product, err)
		}
		relations = append(relations, r)
	}
	volume := " " + j.GPA.String() + " gal/ac"
	id := w.newProduct(key, product{
		Name: cut(j.Mix, mostRunes-len(volume)) + volume, Quantity: volumeContent, Type: typeMixture,
		Recipe: recipeMl, Relations: relations,
	})
	return id, nil
}

func (w *writer) recipe(mix string) []planfile.Ingredient {
	for _, m := range w.doc.Mixes {
		if m.Mix == mix {
			return m.Recipe
		}
	}
	return nil
}

// ingredient is a product's share of the recipe: a volume or a mass, as its rate
// has it.
func (w *writer) ingredient(in planfile.Ingredient, gpa planfile.Number) (relation, error) {
	unit, err := model.ParseRateUnit(in.Unit)
	if err != nil {
		return relation{}, err
	}
	perGal := new(big.Rat).Mul(rat(in.Rate), unit.Factor)
	if unit.Base == model.PerAcre {
		perGal.Quo(perGal, rat(gpa))
	}
	small, kind := mustUnit("mL"), volumeContent
	if unit.Unit.Dim == model.Mass {
		small, kind = mustUnit("g"), massContent
	}
	amount := perGal.Mul(perGal, unit.Unit.Per(small))
	amount.Quo(amount, mustUnit("gal").Per(mustUnit("mL")))
	n, err := whole(amount.Mul(amount, big.NewRat(recipeMl, 1)))
	return relation{w.product(in.Product, kind), n}, err
}

// product adds a single product. One that is used by volume here and by weight
// there is two products, since its quantities count one thing.
func (w *writer) product(name, kind string) string {
	key := name + "\x00" + kind
	if id, known := w.products[key]; known {
		return id
	}
	return w.newProduct(key, product{Name: w.short(name), Quantity: kind, Type: typeSingle})
}

func (w *writer) newProduct(key string, p product) string {
	p.ID = fmt.Sprintf("PDT%d", len(w.root.Products)+1)
	w.products[key] = p.ID
	w.root.Products = append(w.root.Products, p)
	return p.ID
}

// volumeRate is gallons an acre in hundredths of a mm³/m².
func volumeRate(gpa planfile.Number) (int64, error) {
	litres := rat(gpa)
	litres.Mul(litres, mustUnit("gal").Per(mustUnit("L")))
	perHa := litres.Mul(litres, mustUnit("ha").Per(mustUnit("ac")))
	// 1 L/ha is 100 mm³/m².
	return whole(perHa.Mul(perHa, big.NewRat(100*100, 1)))
}

func squareMetres(acres planfile.Number) int64 {
	ha := rat(acres)
	ha.Mul(ha, mustUnit("ac").Per(mustUnit("ha")))
	return round(ha.Mul(ha, big.NewRat(10_000, 1)))
}

// whole rounds to what the format holds.
func whole(r *big.Rat) (int64, error) {
	if r.Cmp(big.NewRat(maxLong, 1)) > 0 {
		return 0, fmt.Errorf("%s is more than the format can hold", r.FloatString(0))
	}
	return round(r), nil
}

// round rounds to the nearest whole number, half away from zero. The areas and
// rates of a plan are far below what it overflows at.
func round(r *big.Rat) int64 {
	return int64((model.RoundRat(r) + model.One/2) / model.One)
}

func rat(n planfile.Number) *big.Rat { return model.Decimal(n).Rat() }

func mustUnit(name string) model.Unit {
	u, ok := model.FindUnit(name)
	if !ok {
		panic("isoxml: no unit " + name)
	}
	return u
}
