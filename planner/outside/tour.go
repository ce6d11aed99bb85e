package outside

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"padturn/model"
)

// Tour is an instance of the asymmetric travelling salesman problem: the
// cheapest round through all cities, where the way there and the way back may
// differ.
//
// As a day: a city is a mix, one bay fills a load of each, and the rinse between
// two mixes takes as many minutes as the arc costs. The round starts in the
// first city, which is in the bay's manifold at the opening, and ends there: one
// more load, of the mix "home", has the rinses that the first city has. Nothing
// may come after it, since rinsing home out costs more than any round. Each mix
// has a product of its own, because a rinse follows from products of the earlier
// mix that are not in the later one. Only rinsing costs, so that a plan costs
// what its round costs, in dollars.
type Tour struct {
	Arcs [][]int // by city left and city reached; the diagonal is not used
}

// ReadTour reads the TSPLIB format with a full matrix.
func ReadTour(r io.Reader) (*Tour, error) {
	w := newWords(r)
	n := 0
	for w.more() {
		switch word := strings.TrimSuffix(w.in.Text(), ":"); word {
		case "DIMENSION":
			n = w.dimension()
		case "EDGE_WEIGHT_SECTION":
			return w.tour(n)
		}
	}
	return nil, orError(w.err, fmt.Errorf("word %d: the text ends; expected EDGE_WEIGHT_SECTION", w.read+1))
}

// dimension reads the number of cities, whether a blank stands before the
// colon or not.
func (w *words) dimension() int {
	if strings.HasSuffix(w.in.Text(), ":") {
		return w.number("the number of cities", 2, mostJobs)
	}
	if w.more() && w.in.Text() != ":" {
		w.err = fmt.Errorf("word %d: %q: expected a colon", w.read, w.in.Text())
	}
	return w.number("the number of cities", 2, mostJobs)
}

func (w *words) tour(n int) (*Tour, error) {
	if n == 0 {
		return nil, fmt.Errorf("word %d: EDGE_WEIGHT_SECTION before DIMENSION", w.read)
	}
	t := &Tour{}
	for range n {
		t.Arcs = append(t.Arcs, w.numbers(n, "an arc's cost", 0, mostTime))
	}
	if w.err != nil {
		return nil, w.err
	}
	if costs := t.costs(); costs[len(costs)-1] > mostMinutes*mostParts {
		return nil, fmt.Errorf("an arc costs %d; expected at most %d", costs[len(costs)-1], mostMinutes*mostParts)
	}
	return t, nil
}

// Day says the instance as a day.
func (t *Tour) Day() model.Input {
	in := bareDay()
	addBays(&in, 1, 0)
	in.Settings.Pad.Bays[0].LastMix = cityName(0)
	t.addLevels(&in)
	for city := range t.Arcs {
		addMix(&in, cityName(city), model.One, "marker "+cityName(city))
		addBags(&in, "marker "+cityName(city), 1)
	}
	addMix(&in, home, model.One, "marker "+home)
	addBags(&in, "marker "+home, 1)
	for city := range t.Arcs[1:] {
		t.addLoad(&in, cityName(city+1))
	}
	t.addLoad(&in, home)
	t.addRules(&in)
	return in
}

// home is the mix that closes the round, and never the level of the rinse
// after it.
const (
	home  = "home"
	never = "never"
)

func cityName(city int) string  { return fmt.Sprintf("city %d", city+1) }
func levelName(cost int) string { return fmt.Sprintf("rinse %d", cost) }

func (t *Tour) addLoad(in *model.Input, mix string) {
	addSprayer(in, "sprayer "+mix, mostTank, fastAcPerH)
	addJob(in, mix, "sprayer "+mix, mix, model.One)
}

// costs lists the different costs of arcs, cheapest first.
func (t *Tour) costs() []int {
	var list []int
	for a, row := range t.Arcs {
		for b, cost := range row {
			if a != b {
				list = append(list, cost)
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// mostParts is into how many parts a minute may be divided for a unit of cost;
// each is whole seconds.
const mostParts = 10

// addLevels adds a rinse level for each cost of an arc. One unit of cost is a
// minute, or a tenth of one where minutes would be longer than a rinse may be;
// the crew costs a dollar for it.
func (t *Tour) addLevels(in *model.Input) {
	costs := t.costs()
	parts := int64(1)
	if costs[len(costs)-1] > mostMinutes {
		parts = mostParts
	}
	in.Settings.Costs.CrewPerH = model.WholeDecimal(60 * parts)
	for _, cost := range costs {
		in.Settings.RinseLevels = append(in.Settings.RinseLevels, model.LevelSettings{
			Name: levelName(cost), Min: model.WholeDecimal(int64(cost)) / model.Decimal(parts),
		})
	}
	in.Settings.Costs.RinsatePerGal = model.One
	in.Settings.RinseLevels = append(in.Settings.RinseLevels, model.LevelSettings{Name: never, Gal: model.WholeDecimal(neverCost)})
}

// neverCost is what leaving home costs: more than a published round.
const neverCost = 1_000_000

// addRules adds a rule for each arc that costs something.
func (t *Tour) addRules(in *model.Input) {
	for a, row := range t.Arcs {
		for b, cost := range row {
			switch {
			case a == b || cost == 0:
			case b == 0:
				addRinse(in, "mix:"+cityName(a), "mix:"+home, levelName(cost))
			default:
				addRinse(in, "mix:"+cityName(a), "mix:"+cityName(b), levelName(cost))
			}
		}
	}
	addRinse(in, "mix:"+home, "*", never)
}

func addRinse(in *model.Input, after, before, level string) {
	in.Rules = append(in.Rules, model.RuleRow{Where: "manifold", After: after, Before: before, Level: level})
}

// Value works out what the round costs that a plan makes, or -1 where the plan
// is no round: a city left out, or loads after home.
func (t *Tour) Value(plan *model.Plan) int {
	jobs := order(plan, 0)
	if n := len(t.Arcs); len(jobs) != n || jobs[n-1] != n-1 {
		return -1
	}
	sum, at := 0, 0
	for _, job := range jobs {
		city := (job + 1) % len(t.Arcs) // the last job is home, the first city
		sum += t.Arcs[at][city]
		at = city
	}
	return sum
}
