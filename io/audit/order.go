package audit

import "fmt"

// checkOrder checks what the files promise about themselves: rows in time
// order, names of loads, places of loads on their bays.
func (a *audit) checkOrder() {
	for i, l := range a.loads[min(1, len(a.loads)):] {
		before := a.loads[i]
		if l.start < before.start || l.start == before.start && l.bay.index < before.bay.index {
			a.breach("files", l.where(), "starts %s on %s after a row that starts %s on %s: rows go by start, then by bay",
				l.start, l.bay.Name, before.start, before.bay.Name)
		}
	}
	for _, s := range a.d.sprayerOrder {
		for i, l := range s.loads {
			a.differs("files", l.where(), "the name of this load of sprayer "+s.name, l.id, fmt.Sprintf("%s-%d", s.name, s.named+i+1))
		}
	}
	for _, b := range a.d.bayOrder {
		for i, l := range b.loads {
			a.differs("files", l.where(), "seq on "+b.Name, l.seq, b.filled+i+1)
		}
	}
	for _, l := range a.loads {
		if l.end < l.start {
			a.breach("files", l.where(), "ends %s before it starts %s", l.end, l.start)
		}
	}
	a.checkTimeOrder()
}

func (a *audit) checkTimeOrder() {
	for i, c := range a.changes[min(1, len(a.changes)):] {
		if c.at < a.changes[i].at {
			a.breach("files", c.where(), "is at %s, earlier than the row above (%s)", c.at, a.changes[i].at)
		}
	}
	for i, w := range a.waterRows[min(1, len(a.waterRows)):] {
		if w.at < a.waterRows[i].at {
			a.breach("files", w.where(), "is at %s, earlier than the row above (%s)", w.at, a.waterRows[i].at)
		}
	}
}

func (l *load) where() string   { return "load " + l.id }
func (j *job) where() string    { return "job " + j.name }
func (c *change) where() string { return fmt.Sprintf("connections.csv:%d", c.line) }

func (w *waterRow) where() string     { return fmt.Sprintf("water.csv:%d", w.line) }
func (s *stockRow) where() string     { return fmt.Sprintf("stock.csv:%d", s.line) }
func (s *spanRow) where() string      { return fmt.Sprintf("turns.csv:%d", s.line) }
func (c *costRow) where() string      { return fmt.Sprintf("cost.csv:%d", c.line) }
func (r *amountRow) where() string    { return fmt.Sprintf("amounts.csv:%d", r.line) }
func (u *unsprayedRow) where() string { return fmt.Sprintf("unsprayed.csv:%d", u.line) }
