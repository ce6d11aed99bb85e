package model

import (
	"fmt"
	"slices"
	"strings"
)

// Report is what [NewProblem] found: with errors there is no problem to plan.
type Report struct {
	Errors, Warnings []Fault
}

// OK says whether nothing stands in the way of planning.
func (r *Report) OK() bool { return len(r.Errors) == 0 }

// NewProblem looks up the names of an input, checks every row alone and all
// rows together, and makes the problem. It reports all that is wrong at once;
// the problem is only good to use when the report is OK.
func NewProblem(in Input) (*Problem, Report) {
	b := &builder{in: &in, p: &Problem{Settings: in.Settings}}
	b.collectNames()
	b.buildSettings()
	b.buildProducts()
	b.buildStock()
	b.buildMixes()
	b.buildBays()
	b.buildSprayers()
	b.buildRules()
	b.buildJobs()
	b.buildUnderway()
	b.buildHolds()
	b.checkTogether()
	return b.p, b.report
}

// builder carries an input on its way to a problem.
type builder struct {
	in     *Input
	p      *Problem
	report Report

	order                             AddingOrder
	products, mixes, sprayers, fields names
	groups, crops, bays               names
	rinses, cleanouts                 names

	// unsure marks products whose form, unit, handling or density is faulty:
	// what follows from those is not reported as well.
	unsure []bool
	// maybeStocked marks products that a faulty row of stock or deliveries is
	// about.
	maybeStocked []bool
	// listed marks products that have a row of stock, though it may say none.
	listed []bool
}

// fail notes an error at a cell.
func (b *builder) fail(t Table, row int, column, value, format string, args ...any) {
	b.report.Errors = append(b.report.Errors, Fault{t, row, column, value, fmt.Sprintf(format, args...)})
}

// warn notes something odd at a cell.
func (b *builder) warn(t Table, row int, column, value, format string, args ...any) {
	b.report.Warnings = append(b.report.Warnings, Fault{t, row, column, value, fmt.Sprintf(format, args...)})
}

// names is a list of names in file order with the index of each.
type names struct {
	list  []string
	index map[string]int
}

// add appends a name and says whether it is new.
func (n *names) add(name string) bool {
	if n.index == nil {
		n.index = map[string]int{}
	}
	_, seen := n.index[name]
	if !seen {
		n.index[name] = len(n.list)
	}
	n.list = append(n.list, name)
	return !seen
}

// find returns the index of a name, or None.
func (n *names) find(name string) int {
	if i, ok := n.index[name]; ok {
		return i
	}
	return None
}

// collectNames fills the name lists and reports names that stand twice or are
// missing.
func (b *builder) collectNames() {
	for i, r := range b.in.Products {
		if r.Product == Water {
			b.fail(ProductsTable, i, "product", r.Product, "is the plain carrier and needs no row here")
		}
		b.name(&b.products, ProductsTable, i, "product", r.Product)
		for _, g := range r.Groups {
			if b.groups.find(g) == None {
				b.groups.add(g)
			}
		}
	}
	for i, r := range b.in.Mixes {
		b.name(&b.mixes, MixesTable, i, "mix", r.Mix)
	}
	for i, r := range b.in.Sprayers {
		b.name(&b.sprayers, SprayersTable, i, "sprayer", r.Sprayer)
	}
	for _, r := range b.in.Jobs {
		if b.fields.find(r.Field) == None {
			b.fields.add(r.Field)
		}
		if b.crops.find(r.Crop) == None {
			b.crops.add(r.Crop)
		}
	}
	for i, s := range b.in.Settings.Pad.Bays {
		b.name(&b.bays, DayTable, None, fmt.Sprintf("pad.bays[%d].name", i), s.Name)
	}
	for i, l := range b.in.Settings.RinseLevels {
		b.name(&b.rinses, DayTable, None, fmt.Sprintf("rinse_levels[%d].name", i), l.Name)
	}
	for i, l := range b.in.Settings.CleanoutLevels {
		b.name(&b.cleanouts, DayTable, None, fmt.Sprintf("cleanout_levels[%d].name", i), l.Name)
	}
}

func (b *builder) name(n *names, t Table, row int, column, name string) {
	if name == "" {
		b.fail(t, row, column, name, "a name is required")
	}
	if !n.add(name) && name != "" {
		b.fail(t, row, column, name, "stands twice; each name may be used once")
	}
}

// lookUp finds a name that must be known; blank is not looked up.
func (b *builder) lookUp(n *names, home string, t Table, row int, column, name string) int {
	if name == "" {
		return None
	}
	i := n.find(name)
	if i == None {
		b.fail(t, row, column, name, "is not in %s%s", home, Suggest(name, n.list))
	}
	return i
}

// productOrWater finds a product; water is None and no error.
func (b *builder) productOrWater(t Table, row int, column, name string) int {
	if name == Water {
		return None
	}
	return b.lookUp(&b.products, "products.csv", t, row, column, name)
}

// oneOf checks a word against the allowed ones.
func (b *builder) oneOf(t Table, row int, column, word string, allowed ...string) bool {
	if slices.Contains(allowed, word) {
		return true
	}
	b.fail(t, row, column, word, "expected %s%s", orList(allowed), Suggest(word, allowed))
	return false
}

func orList(words []string) string {
	if len(words) == 1 {
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// Count returns a number with its noun: 1 bay, 2 bays.
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// limits are the edges of what a number can sensibly be.
type limits struct {
	least, most Decimal
	unit        string
	above       bool // least itself is not allowed
}

// within checks a number against its limits and says whether it keeps them.
func (b *builder) within(t Table, row int, column string, value Decimal, l limits) bool {
	if value > l.least && value <= l.most || value == l.least && !l.above {
		return true
	}
	low := "at least"
	if l.above {
		low = "more than"
	}
	b.fail(t, row, column, value.String(), "%s", strings.TrimSpace(fmt.Sprintf("expected %s %s and at most %s %s", low, l.least, l.most, l.unit)))
	return false
}

// withinOpt is within for a cell that may be blank.
func (b *builder) withinOpt(t Table, row int, column string, value *Decimal, l limits) bool {
	return value == nil || b.within(t, row, column, *value, l)
}

// orDefault returns *v, or what a blank cell stands for.
func orDefault[T any](v *T, blank T) T {
	if v == nil {
		return blank
	}
	return *v
}
