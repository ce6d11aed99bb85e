package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"padturn/io/journal"
	"padturn/io/table"
	"padturn/model"
	"padturn/model/standing"
)

// markFlags are the flags of a report, as text.
type markFlags struct {
	at, until, planned, acresLeft, full, size, container, why string
	open, drew                                                []string
}

func (f *markFlags) add(flags *pflag.FlagSet) {
	flags.StringVar(&f.at, "at", "", "`time` it happened, HH:MM (default: now, if DAY is dated today)")
	flags.StringVar(&f.acresLeft, "acres-left", "", "load: `acres` still to spray; of a done or dropped one they go back to the job")
	flags.StringArrayVar(&f.drew, "drew", nil, "load: `PRODUCT=AMOUNT` by meter or scale, in its stock unit; may be repeated")
	flags.StringVar(&f.until, "until", "", "sprayer out, delivery late: `time` it is expected")
	flags.StringVar(&f.planned, "planned", "", "delivery: its `time` in deliveries.csv, where there are several")
	flags.StringVar(&f.full, "full", "", "stock: `number` of full containers")
	flags.StringArrayVar(&f.open, "open", nil, "stock: `amount` in an opened container, those on connections first; may be repeated")
	flags.StringVar(&f.size, "size", "", "stock: `amount` a container holds (default: as in stock.csv)")
	flags.StringVar(&f.container, "container", "", "stock: `kind` of container, bulk, tote, drum, jug or bag (default: as in stock.csv)")
	flags.StringVar(&f.why, "why", "", "`words` for people")
}

// kinds are what can be reported, with the flags that go with each.
var kinds = map[string][]string{
	"load":     {"acres-left", "drew"},
	"sprayer":  {"until"},
	"delivery": {"until", "planned"},
	"stock":    {"full", "open", "size", "container"},
	"job":      {},
	"undo":     {},
	"progress": {},
}

// kindOf is the kind that a word names; blank where it names none, so that it is
// the name of a load, or of a sprayer that is out or back.
func kindOf(word string) string {
	if _, known := kinds[word]; known {
		return word
	}
	return ""
}

func isOutOrBack(args []string) bool {
	return len(args) == 1 && (args[0] == "out" || args[0] == "back")
}

// read makes sure that the flags go with what is reported.
func (f *markFlags) read(flags *pflag.FlagSet, what string, args []string) error {
	what = cmp.Or(kindOf(what), "load")
	if isOutOrBack(args) {
		what = "sprayer"
	}
	allowed := kinds[what]
	var wrong error
	flags.Visit(func(flag *pflag.Flag) {
		if !slices.Contains([]string{"at", "why"}, flag.Name) && !slices.Contains(allowed, flag.Name) && wrong == nil {
			wrong = fmt.Errorf("--%s does not go with %s", flag.Name, what)
		}
	})
	return cmp.Or(wrong, checkWords("--why", f.why))
}

// note makes a note of the words of a report.
func (m marking) note(begun *begunDay, what string, args []string) (journal.Note, error) {
	note := journal.Note{Cause: m.flags.why}
	var err error
	switch kindOf(what) {
	case "load":
		note.News, err = m.load(args)
	case "sprayer":
		note.News, err = m.sprayer(args)
	case "delivery":
		note.News, err = m.delivery(begun, args)
	case "stock":
		note.News, err = m.stock(begun, args)
	case "job":
		note.News, err = m.job(args)
	case "":
		if isOutOrBack(args) {
			note.News, err = m.sprayer(append([]string{what}, args...))
			break
		}
		note.News, err = m.load(append([]string{what}, args...))
	}
	if err != nil {
		return note, err
	}
	note.At, err = moment(m.flags.at, begun.day.Input.Settings.Date, m.now)
	return note, err
}

func (m marking) load(args []string) (standing.News, error) {
	if err := words(args, "load", "NAME", "STATE"); err != nil {
		return nil, err
	}
	mark := standing.LoadMark{Load: args[0], State: standing.State(args[1])}
	var err error
	if mark.AcresLeft, err = optional("--acres-left", m.flags.acresLeft, table.ParseDecimal); err != nil {
		return nil, err
	}
	for _, text := range m.flags.drew {
		i := strings.LastIndexByte(text, '=')
		if i < 0 {
			return nil, fmt.Errorf("--drew %q: expected PRODUCT=AMOUNT", text)
		}
		amount, err := table.ParseDecimal(text[i+1:])
		if err != nil {
			return nil, fmt.Errorf("--drew %q: the amount %w", text, err)
		}
		mark.Drew = append(mark.Drew, standing.Drew{Product: text[:i], Amount: amount})
	}
	return mark, nil
}

func (m marking) sprayer(args []string) (standing.News, error) {
	if err := words(args, "sprayer", "NAME", "out or back"); err != nil {
		return nil, err
	}
	until, err := optional("--until", m.flags.until, model.ParseHHMM)
	switch {
	case err != nil:
		return nil, err
	case args[1] != "out" && args[1] != "back":
		return nil, fmt.Errorf("sprayer %s %q: expected out or back", args[0], args[1])
	case until != nil && args[1] == "back":
		return nil, fmt.Errorf("--until goes with out: when the sprayer is expected back")
	}
	return standing.SprayerMark{Sprayer: args[0], Out: args[1] == "out", Until: until}, nil
}

func (m marking) delivery(begun *begunDay, args []string) (standing.News, error) {
	if err := words(args, "delivery", "PRODUCT", "arrived or late"); err != nil {
		return nil, err
	}
	until, err := optional("--until", m.flags.until, model.ParseHHMM)
	if err != nil {
		return nil, err
	}
	planned, err := optional("--planned", m.flags.planned, model.ParseHHMM)
	switch {
	case err != nil:
		return nil, err
	case args[1] != "arrived" && args[1] != "late":
		return nil, fmt.Errorf("delivery %s %q: expected arrived or late", args[0], args[1])
	case until != nil && args[1] == "arrived":
		return nil, fmt.Errorf("--until goes with late: when the delivery is expected")
	}
	mark := standing.DeliveryMark{Product: args[0], Arrived: args[1] == "arrived", Until: until}
	mark.Planned, err = deliveryOf(begun, args[0], planned)
	return mark, err
}

// deliveryOf finds which delivery is meant: the one of a product, or of several
// the one at a time.
func deliveryOf(begun *begunDay, product string, planned *model.Clock) (model.Clock, error) {
	var times []model.Clock
	for _, r := range begun.day.Input.Deliveries {
		if r.Product == product && !slices.Contains(times, r.At) {
			times = append(times, r.At)
		}
	}
	switch {
	case planned != nil:
		return *planned, nil
	case len(times) == 0:
		var names []string
		for _, r := range begun.day.Input.Deliveries {
			names = append(names, r.Product)
		}
		return 0, wrongInput("deliveries.csv has no %s%s; nothing was written down", product, model.Suggest(product, names))
	case len(times) > 1:
		list := make([]string, len(times))
		for i, t := range times {
			list[i] = t.HHMM()
		}
		return 0, wrongInput("%s comes at %s: say which with --planned; nothing was written down", product, strings.Join(list, ", "))
	}
	return times[0], nil
}

func (m marking) stock(begun *begunDay, args []string) (standing.News, error) {
	if err := words(args, "stock", "PRODUCT"); err != nil {
		return nil, err
	}
	c := standing.StockCount{Product: args[0], Container: m.flags.container}
	size, err := optional("--size", m.flags.size, table.ParseDecimal)
	if err != nil {
		return nil, err
	}
	if m.flags.full == "" {
		return nil, fmt.Errorf("--full is missing: how many full containers there are, which may be 0")
	}
	if c.Full, err = table.ParseCount(m.flags.full); err != nil {
		return nil, fmt.Errorf("--full: %q %w", m.flags.full, err)
	}
	for _, text := range m.flags.open {
		open, err := table.ParseDecimal(text)
		if err != nil {
			return nil, fmt.Errorf("--open: %q %w", text, err)
		}
		c.Open = append(c.Open, open)
	}
	kind, usual := begun.day.Input.KeptIn(args[0])
	if c.Container == "" {
		c.Container = kind
	}
	if c.Size = usual; size != nil {
		c.Size = *size
	}
	if (c.Container == "" || c.Size == 0) && begun.hasProduct(args[0]) {
		return nil, fmt.Errorf("stock.csv and deliveries.csv don't say what %s is kept in: give --container and --size", args[0])
	}
	return c, nil
}

func (m marking) job(args []string) (standing.News, error) {
	if len(args) < 2 {
		return nil, words(args, "job", "NAME", "added, changed or dropped")
	}
	cells := map[string]string{}
	for _, text := range args[2:] {
		column, value, found := strings.Cut(text, "=")
		if !found {
			return nil, fmt.Errorf("%q: expected COLUMN=VALUE, such as acres=168", text)
		}
		cells[column] = value
	}
	if args[1] == string(standing.JobDropped) && len(cells) > 0 {
		return nil, fmt.Errorf("a job that is dropped takes no %s", args[2])
	}
	news, err := journal.JobNews(standing.JobChange(args[1]), args[0], cells)
	if err != nil {
		return nil, fmt.Errorf("job %s: %w", args[0], err)
	}
	return news, nil
}

// words makes sure that a report has so many words.
func words(args []string, what string, names ...string) error {
	switch {
	case len(args) < len(names):
		return fmt.Errorf("%s: %s is missing", what, names[len(args)])
	case len(args) > len(names):
		return fmt.Errorf("%s: %q is one word too many", what, args[len(names)])
	}
	return nil
}

// optional reads a flag that may be left out.
func optional[T any](name, text string, parse func(string) (T, error)) (*T, error) {
	if text == "" {
		return nil, nil
	}
	value, err := parse(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %q %w", name, text, err)
	}
	return &value, nil
}

// hasProduct says whether the day's sheets know a product; of one that they don't,
// the check of the report says which is meant.
func (b *begunDay) hasProduct(name string) bool {
	return slices.ContainsFunc(b.day.Input.Products, func(p model.ProductRow) bool { return p.Product == name })
}
