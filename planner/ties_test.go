package planner

import (
	"fmt"
	"math/bits"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

// addMix adds a mix whose recipe has so many letters' products, as they stand, and
// a sprayer with one load of it.
func addMix(in *model.Input, mix, products string) {
	in.Mixes = append(in.Mixes, model.MixRow{Mix: mix, GPA: dec(10)})
	for _, p := range products {
		in.Recipes = append(in.Recipes, model.RecipeRow{Mix: mix, Product: string(p), Rate: dec(1), Unit: "gal/ac"})
	}
	in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: mix, TankGal: dec(1000), AcPerH: model.Some(dec(60))})
	addJob(in, mix, mix, mix, 50)
}

// drawnIn says in which order a load's products go in.
func drawnIn(p *model.Problem, l *model.PlannedLoad) string {
	var s strings.Builder
	for _, d := range l.Doses {
		s.WriteString(p.Products[d.Product].Name)
	}
	return s.String()
}

// One connection; A, B and C stand at one place of the adding order.
func TestOrderAmongTies(t *testing.T) {
	tests := []struct {
		name, hooked string
		loads        []string // their products as the recipes have them
		want         []string // as they go in
		changeovers  int
	}{
		{"what hangs there goes first", "B", []string{"AB"}, []string{"BA"}, 1},
		{"what the next load wants goes last", "", []string{"AB", "A"}, []string{"BA", "A"}, 2},
		{"of what the next load wants, what it draws first", "", []string{"AB", "ABC", "B"}, []string{"BA", "ACB", "B"}, 4},
		{"the recipe's order where none is cheaper", "", []string{"BCA"}, []string{"BCA"}, 3},
		{"the recipe's order where it is as cheap", "", []string{"BAC", "C"}, []string{"BAC", "C"}, 3},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := plainDay()
			in.Sprayers, in.Mixes, in.Recipes = nil, nil, nil
			if tt.hooked != "" {
				in.Settings.Pad.Bays[0].Hooked = []string{tt.hooked}
			}
			var slots []Slot
			for i, products := range tt.loads {
				addMix(&in, fmt.Sprintf("M%d", i+1), products)
				slots = append(slots, Slot{i, 0})
			}
			p := problem(t, in)
			plan := evaluateInFileOrder(t, p, slots...)
			var got []string
			for i := range plan.Loads {
				got = append(got, drawnIn(p, &plan.Loads[i]))
			}
			assert.Equal(t, tt.want, got)
			assert.Len(t, plan.Changes, tt.changeovers)
		})
	}
}

// A step in the recipe, or a class, leaves nothing free.
func TestOrderAgainstClassesIsNotFree(t *testing.T) {
	in := plainDay()
	in.Sprayers, in.Mixes, in.Recipes = nil, nil, nil
	in.Settings.Pad.Bays[0].Hooked = []string{"B"}
	in.Products[1].Form = "EC" // B goes in after A
	addMix(&in, "M1", "AB")
	p := problem(t, in)
	plan := evaluateInFileOrder(t, p, Slot{0, 0})
	assert.Equal(t, "AB", drawnIn(p, &plan.Loads[0]))
	assert.Len(t, plan.Changes, 2, "A in the set-up, B inside")
}

// TestFewestChangeoversOfAllOrders holds the rule for ties against every order
// that the adding order allows, every choice of what is on before a load starts and
// of what makes room: for a given sequence of loads none has fewer changeovers.
func TestFewestChangeoversOfAllOrders(t *testing.T) {
	const days, products, loads = 400, 7, 8
	forms := []string{"SL", "EC", "SO"} // in adding order
	for seed := range uint64(days) {
		rng := rand.New(rand.NewPCG(seed, 5))
		in := plainDay()
		in.Products, in.Stock, in.Sprayers, in.Mixes, in.Recipes = nil, nil, nil, nil, nil
		m := manifold{free: 1 + rng.IntN(4)}
		in.Settings.Pad.Bays[0].Connections = m.free
		for i := range products {
			m.class = append(m.class, rng.IntN(1+rng.IntN(len(forms))))
			name := string(rune('A' + i))
			in.Products = append(in.Products, model.ProductRow{Product: name, Form: forms[m.class[i]], Unit: "gal", Handling: "metered"})
			in.Stock = append(in.Stock, model.StockRow{Product: name, Container: "bulk", Size: dec(10_000), Full: dec(1)})
		}
		states := map[hung]int{0: 0}
		var slots []Slot
		for i := range loads {
			load := rng.Perm(products)[:1+rng.IntN(5)]
			states = m.fill(states, load)
			var names strings.Builder
			for _, n := range load {
				names.WriteString(in.Products[n].Product)
			}
			addMix(&in, fmt.Sprintf("M%d", i+1), names.String())
			slots = append(slots, Slot{i, 0})
		}
		fewest := 1 << 30
		for _, count := range states {
			fewest = min(fewest, count)
		}
		assert.Len(t, evaluateInFileOrder(t, problem(t, in), slots...).Changes, fewest, "seed %d", seed)
	}
}

// hung is a set of products on a bay's connections.
type hung uint

func (h hung) has(n int) bool  { return h>>n&1 != 0 }
func (h hung) with(n int) hung { return h | 1<<n }
func (h hung) count() int      { return bits.OnesCount(uint(h)) }

// manifold is a bay by the words of R3 and R6, to try everything on.
type manifold struct {
	free  int
	class []int // by product: its place in the adding order
}

// fill returns what can hang on the bay after a load, and the fewest changeovers
// until then for each.
func (m *manifold) fill(before map[hung]int, load []int) map[hung]int {
	after := map[hung]int{}
	reach := func(h hung, count int) {
		if old, known := after[h]; !known || count < old {
			after[h] = count
		}
	}
	var own hung
	for _, n := range load {
		own = own.with(n)
	}
	for on, count := range before {
		for set := own; set > 0; set = (set - 1) & own {
			if set.count() != min(m.free, len(load)) {
				continue
			}
			count := count + (set &^ on).count()
			if set != own {
				m.draw(set, 0, load, func(h hung) { reach(h, count+len(load)-m.free) })
				continue
			}
			rest := on &^ own
			for stays := rest; ; stays = (stays - 1) & rest {
				if stays.count() == min(rest.count(), m.free-len(load)) {
					reach(own|stays, count)
				}
				if stays == 0 {
					break
				}
			}
		}
	}
	return after
}

// draw draws what is left of a load in every order.
func (m *manifold) draw(on, drawn hung, load []int, done func(hung)) {
	next := slices.DeleteFunc(slices.Clone(load), drawn.has)
	if len(next) == 0 {
		done(on)
		return
	}
	first := slices.MinFunc(next, func(x, y int) int { return m.class[x] - m.class[y] })
	for _, n := range next {
		switch {
		case m.class[n] != m.class[first]:
		case on.has(n):
			m.draw(on, drawn.with(n), load, done)
		default:
			for _, off := range load {
				if on.has(off) && drawn.has(off) {
					m.draw(on.with(n)&^hung(0).with(off), drawn.with(n), load, done)
				}
			}
		}
	}
}

// What a step of a search does on a crowded day takes no memory.
func TestOrderAmongTiesTakesNoMemory(t *testing.T) {
	in := plainDay()
	in.Sprayers, in.Mixes, in.Recipes = nil, nil, nil
	d := Decisions{}
	for i, products := range []string{"AB", "ABC", "B", "CA"} {
		addMix(&in, fmt.Sprintf("M%d", i+1), products)
		d.Routes, d.Sequence = append(d.Routes, []Run{{i}}), append(d.Sequence, Slot{i, 0})
	}
	e := newEvaluator(newInstance(problem(t, in)))
	c := e.candidateOf(&d)
	assert.Zero(t, testing.AllocsPerRun(10, func() { e.evaluate(c) }))
}

// TestSearchFindsTheBestOrderAmongTies compares the search with every order of jobs
// and loads under every adding order that is allowed, each said by steps in the
// recipes of the day.
func TestSearchFindsTheBestOrderAmongTies(t *testing.T) {
	wanted := 40
	if testing.Short() {
		wanted = 8
	}
	saves := 0
	for seed := uint64(0); wanted > 0; seed++ {
		in := crowdedDay(seed)
		if _, report := model.NewProblem(in); len(report.Errors) > 0 {
			continue // more bays have a product on than there are totes of it
		}
		p := problem(t, in)
		days := pinned(t, in)
		if len(days) == 1 || !newInstance(p).anyCrowdedMix() {
			continue
		}
		wanted--
		asWritten := cheapest(problem(t, days[0]))
		best := asWritten
		for _, day := range days[1:] {
			if s := cheapest(problem(t, day)); s.less(best) {
				best = s
			}
		}
		r, err := Plan(t.Context(), p, Settings{Steps: 100_000, Seed: 1})
		require.NoError(t, err)
		got := score{r.Plan.Left, r.Plan.Cost.Total()}
		assert.False(t, best.less(got), "seed %d: the search comes to $%v, the best of all to $%v", seed, got.cost.Dollars(), best.cost.Dollars())
		if got.less(asWritten) {
			saves++
		}
	}
	assert.Positive(t, saves, "no day on which another order than the recipe's is cheaper")
}

// crowdedDay is a day of three loads, each with a mix of its own, some of which
// have more products than a bay has connections; every other day has totes.
func crowdedDay(seed uint64) model.Input {
	const products = 5
	rng := rand.New(rand.NewPCG(seed, 11))
	in := plainDay()
	in.Products, in.Mixes, in.Recipes, in.Stock, in.Sprayers = nil, nil, nil, nil, nil
	in.Settings.Costs = model.CostSettings{WaitPerH: dec(60), Changeover: dec(float64(rng.IntN(10))), TimelinessPerAcH: dec(0.01)}
	for i := range products {
		name := string(rune('A' + i))
		in.Products = append(in.Products, model.ProductRow{Product: name, Form: []string{"SL", "SL", "SL", "EC"}[rng.IntN(4)], Unit: "gal", Handling: "metered"})
		stock := model.StockRow{Product: name, Container: "bulk", Size: dec(10_000), Full: dec(1)}
		if seed%2 == 1 && rng.IntN(2) == 0 {
			stock = model.StockRow{Product: name, Container: "tote", Size: dec(60 + float64(rng.IntN(60))), Full: dec(3 + float64(rng.IntN(2)))}
		}
		in.Stock = append(in.Stock, stock)
	}
	in.Settings.Pad.Bays = nil
	for b := range 1 + rng.IntN(2) {
		bay := model.BaySettings{Name: fmt.Sprintf("bay %d", b+1), Connections: 1 + rng.IntN(2), Carriers: []string{model.Water}}
		for _, i := range rng.Perm(products)[:rng.IntN(bay.Connections+1)] {
			bay.Hooked = append(bay.Hooked, in.Products[i].Product)
		}
		in.Settings.Pad.Bays = append(in.Settings.Pad.Bays, bay)
	}
	for i := range 2 + rng.IntN(2) {
		in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: fmt.Sprintf("S%d", i+1), TankGal: dec(1000), AcPerH: model.Some(dec(60))})
	}
	for i := range 3 {
		mix := fmt.Sprintf("mix %d", i+1)
		in.Mixes = append(in.Mixes, model.MixRow{Mix: mix, GPA: dec(10)})
		for _, k := range rng.Perm(products)[:1+rng.IntN(3)] {
			in.Recipes = append(in.Recipes, model.RecipeRow{Mix: mix, Product: in.Products[k].Product, Rate: dec(1), Unit: "gal/ac"})
		}
		addJob(&in, fmt.Sprintf("J%d", i+1), in.Sprayers[i%len(in.Sprayers)].Sprayer, mix, float64(10+rng.IntN(80)))
	}
	return in
}

// pinned lists a day with every order of each mix's products that the adding order
// allows, the recipes' own first. Steps say them, which leave nothing free.
func pinned(t *testing.T, in model.Input) []model.Input {
	days := []model.Input{in}
	p := problem(t, in)
	for m := range p.Mixes {
		var longer []model.Input
		for _, order := range orders(p.Mixes[m].Recipe) {
			for _, day := range days {
				day.Recipes = slices.Clone(day.Recipes)
				for i := range day.Recipes {
					r := &day.Recipes[i]
					if k := slices.IndexFunc(order, func(g model.Ingredient) bool { return p.Products[g.Product].Name == r.Product }); r.Mix == p.Mixes[m].Name {
						r.Step = model.Some(order[k].Step + model.Decimal(k)*model.One/1000)
					}
				}
				longer = append(longer, day)
			}
		}
		days = longer
	}
	return days
}

// orders lists the orders of a recipe in which no step falls, its own first.
func orders(recipe []model.Ingredient) [][]model.Ingredient {
	if len(recipe) == 0 {
		return [][]model.Ingredient{nil}
	}
	var all [][]model.Ingredient
	for i, g := range recipe {
		if g.Step != recipe[0].Step {
			break
		}
		for _, rest := range orders(slices.Delete(slices.Clone(recipe), i, i+1)) {
			all = append(all, append([]model.Ingredient{g}, rest...))
		}
	}
	return all
}

// cheapest tries every order of jobs, every order of loads and every bay for each,
// on a day whose jobs are a load each, and returns the best score.
func cheapest(p *model.Problem) score {
	e := newEvaluator(newInstance(p))
	best := worst
	var try func(routes [][]Run, sequence []Slot, job int)
	try = func(routes [][]Run, sequence []Slot, job int) {
		if job == len(p.Jobs) {
			if s := e.score(e.candidateOf(&Decisions{Routes: routes, Sequence: sequence})); s.less(best) {
				best = s
			}
			return
		}
		s := p.Jobs[job].Sprayer
		for at := range len(routes[s]) + 1 {
			more := slices.Clone(routes)
			more[s] = slices.Insert(slices.Clone(routes[s]), at, Run{job})
			for place := range len(sequence) + 1 {
				if slices.ContainsFunc(sequence[place:], func(x Slot) bool { return x.Sprayer == s }) {
					continue // slots of a sprayer are alike: tried behind them
				}
				for bay := range p.Bays {
					try(more, slices.Insert(slices.Clone(sequence), place, Slot{s, bay}), job+1)
				}
			}
		}
	}
	try(make([][]Run, len(p.Sprayers)), nil, 0)
	return best
}
