package changes

import (
	"strconv"
	"strings"

	"padturn/io/planfile"
	"padturn/io/table"
)

// header of changes.csv.
const header = "sprayer,load,what,jobs,mix,bay,start,was_sprayer,was_load,was_mix,was_bay,was_start,shift_min,adding_order"

// CSV renders changes.csv: a row for each change, by time.
func CSV(list []Change) []byte {
	rows := make([][]string, len(list))
	for i := range list {
		rows[i] = list[i].row()
	}
	return table.CSV(header, rows)
}

func (c *Change) row() []string {
	is, was := cells(c.Is), cells(c.Was)
	shift := ""
	if c.Is != nil && c.Was != nil {
		shift = strconv.FormatFloat(float64(c.Is.Start-c.Was.Start)/60, 'f', 4, 64)
	}
	one := c.Is
	if one == nil {
		one = c.Was
	}
	row := []string{is[0], is[1], c.What, table.Safe(strings.Join(jobs(one), ";")), is[2], is[3], is[4]}
	order := "" // where it is another one
	if c.reorders() {
		order = table.Safe(strings.Join(addingOrder(c.Is), ";"))
	}
	return append(append(row, was...), shift, order)
}

// cells are sprayer, load, mix, bay and start of a load; blank where there is
// none.
func cells(l *planfile.Load) []string {
	if l == nil {
		return make([]string, 5)
	}
	return []string{table.Safe(l.Sprayer), table.Safe(l.Load), table.Safe(l.Mix), table.Safe(l.Bay), l.Start.String()}
}

func jobs(l *planfile.Load) []string {
	list := make([]string, len(l.Parts))
	for i, p := range l.Parts {
		list[i] = p.Job
	}
	return list
}
