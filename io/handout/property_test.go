package handout

import (
	"fmt"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/io/planfile"
	"padturn/model"
)

// drawnDay draws a plan with one mix of up to a dozen products, sprayed by one
// sprayer in runs whose loads cover one job or the end of one and the start of
// the next, down to a billionth of an acre.
func drawnDay(t *rapid.T) *planfile.Document {
	d := &planfile.Document{Day: planfile.Day{Units: rapid.SampledFrom([]string{"us", "metric"}).Draw(t, "units")}}
	d.Bays = []planfile.Bay{{Bay: "b"}}
	d.Sprayers = []planfile.Sprayer{{Sprayer: "s"}}
	d.Products = rapid.SliceOfN(rapid.Custom(drawnProduct), 1, 12).Draw(t, "products")
	var perAcre []int64 // billionths of the stock unit
	mix := planfile.Mix{Mix: "m", Carrier: "water"}
	for i := range d.Products {
		d.Products[i].Product = fmt.Sprint("p", i)
		mix.Recipe = append(mix.Recipe, planfile.Ingredient{Product: d.Products[i].Product, Unit: "floz/ac"})
		perAcre = append(perAcre, rapid.Int64Range(1, 5_000_000_000).Draw(t, "rate"))
	}
	d.Mixes = []planfile.Mix{mix}
	for n := rapid.IntRange(1, 6).Draw(t, "jobs"); n > 0; n-- {
		d.Jobs = append(d.Jobs, planfile.Job{Job: fmt.Sprint("j", n), Field: "f", Mix: "m", GPA: planfile.Number(model.One * 10)})
	}
	var parts []planfile.Part
	for _, j := range d.Jobs {
		for k := rapid.IntRange(1, 4).Draw(t, "parts"); k > 0; k-- {
			parts = append(parts, planfile.Part{Job: j.Job, Acres: planfile.Number(rapid.Int64Range(1, 200_000_000_000).Draw(t, "acres"))})
		}
	}
	for len(parts) > 0 {
		n := min(rapid.IntRange(1, 3).Draw(t, "in a load"), len(parts))
		d.Loads = append(d.Loads, drawnLoad(fmt.Sprint("s-", len(d.Loads)+1), d, perAcre, parts[:n]))
		parts = parts[n:]
	}
	return d
}

func drawnProduct(t *rapid.T) planfile.Product {
	form := rapid.SampledFrom([]string{"SL", "SC", "WG", "SG"}).Draw(t, "form")
	units := []string{"gal", "L", "qt", "floz"}
	if f, _ := model.FindFormulation(form); f.Dry {
		units = []string{"lb", "kg", "oz", "g"}
	}
	p := planfile.Product{
		Form: form, Unit: rapid.SampledFrom(units).Draw(t, "unit"),
		Handling: rapid.SampledFrom([]string{"metered", "hopper"}).Draw(t, "handling"),
	}
	if rapid.Bool().Draw(t, "packed") {
		p.Pack = new(planfile.Number(rapid.Int64Range(1, 60).Draw(t, "pack") * 500_000_000))
	}
	if rapid.Bool().Draw(t, "dense") {
		p.DensityLbGal = new(planfile.Number(rapid.Int64Range(60, 130).Draw(t, "density") * 100_000_000))
	}
	return p
}

func drawnLoad(id string, d *planfile.Document, perAcre []int64, parts []planfile.Part) planfile.Load {
	l := planfile.Load{Load: id, Bay: "b", Seq: len(d.Loads) + 1, Sprayer: "s", Mix: "m", Carrier: "water", Parts: parts}
	for _, p := range parts {
		l.Acres += p.Acres
	}
	l.Gal, l.CarrierGal = l.Acres*10, l.Acres*10
	half := l.CarrierGal / 2
	l.Steps = append(l.Steps, planfile.Step{Product: "water", Amount: half, Unit: "gal", Gal: half, Source: planfile.SourceCarrier})
	for i, rate := range perAcre {
		p := d.Products[i]
		amount := new(big.Rat).Mul(model.Decimal(l.Acres).Rat(), model.Decimal(rate).Rat())
		l.Steps = append(l.Steps, planfile.Step{
			Step: i + 1, Product: p.Product, Amount: planfile.Number(model.RoundRat(amount)), Unit: p.Unit, Source: p.Handling, Connection: 1,
		})
	}
	rest := l.CarrierGal - half
	l.Steps = append(l.Steps, planfile.Step{Step: len(perAcre) + 1, Product: "water", Amount: rest, Gal: rest, Source: planfile.SourceCarrier})
	return l
}

// TestNothingIsLostByRounding: the printed parts of a job add up to its exact
// total, rounded once; a load is off by less than a step a part; its parts add
// up to it; and the carrier's lines add up to the spray volume's carrier.
func TestNothingIsLostByRounding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawnDay(t)
		h, err := Of(d)
		require.NoError(t, err)
		require.Len(t, h.Sheets, len(d.Loads))
		w := newWriter(d, "")
		printed, exact := map[string]map[string]Amount{}, map[string]map[string]*big.Rat{}
		for i, s := range h.Sheets {
			l := d.Loads[i]
			require.Equal(t, l.Load, s.Load)
			for k, line := range s.Lines {
				if line.Carrier {
					continue
				}
				p := w.products[line.Product]
				dose := p.exact(model.Decimal(l.Steps[k].Amount).Rat(), p.amount)
				off := new(big.Rat).Sub(dose, line.Amount.Exact())
				steps := off.Abs(off).Mul(off, p.amount.perUnit())
				assert.LessOrEqual(t, steps.Cmp(big.NewRat(int64(len(l.Parts)), 1)), 0, "%s: %s for %s", s.Load, line.Amount, dose.FloatString(6))
				assert.Equal(t, line.Amount, sum(line.Parts))
				for n, part := range l.Parts {
					share := new(big.Rat).SetFrac64(int64(part.Acres), int64(l.Acres))
					add(printed, exact, part.Job, line.Product, line.Parts[n], share.Mul(share, dose))
				}
			}
			assert.Equal(t, s.Spray, s.Lines[len(s.Lines)-1].Tank)
			for n, part := range l.Parts {
				add(printed, exact, part.Job, "area", s.Fields[n].Area, w.areaOf(part.Acres))
			}
		}
		for job, products := range printed {
			for product, got := range products {
				want := got.Scale.round(exact[job][product])
				assert.Equal(t, want, got.Steps, "%s of %s in %v", product, job, got.Scale)
			}
		}
	})
}

func add(printed map[string]map[string]Amount, exact map[string]map[string]*big.Rat, job, product string, a Amount, x *big.Rat) {
	if printed[job] == nil {
		printed[job], exact[job] = map[string]Amount{}, map[string]*big.Rat{}
	}
	if exact[job][product] == nil {
		printed[job][product], exact[job][product] = Amount{0, a.Scale}, new(big.Rat)
	}
	printed[job][product] = printed[job][product].plus(a)
	exact[job][product].Add(exact[job][product], x)
}

// TestMeasuredPacksAddUp: whole packs and the rest are the printed amount, to
// half a step for each pack that is no whole number of steps.
func TestMeasuredPacksAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Custom(drawnProduct).Draw(t, "product")
		p.Handling = planfile.SourceHopper
		p.Pack = new(planfile.Number(rapid.Int64Range(1, 60).Draw(t, "size") * 500_000_000))
		s := newSubstance(p, big.NewRat(rapid.Int64Range(1, 5000).Draw(t, "smallest"), 100), usLadders)
		a := Amount{rapid.Int64Range(0, 100_000).Draw(t, "steps"), s.amount}
		whole, rest := s.packs(a)
		pack := s.exact(model.Decimal(*p.Pack).Rat(), a.Scale)
		total := new(big.Rat).Mul(pack, new(big.Rat).SetInt64(whole))
		total.Add(total, rest.Exact())
		off := total.Sub(total, a.Exact())
		assert.LessOrEqual(t, off.Abs(off).Mul(off, a.Scale.perUnit()).Cmp(big.NewRat(1, 2)), 0)
		assert.LessOrEqual(t, rest.Exact().Cmp(pack), 0)
	})
}
