package outside

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"padturn/model"
)

// Ordered is an instance of the tool switching problem with tool order
// constraints: the tools of a job stand in its list in the order they must have
// on the machine's slots, and putting tool v in the place of tool u takes a time
// of its own.
//
// A day covers the variant with equal set-up times and without the order on the
// slots, which is plain tool switching: [Ordered.Day] is the day of its
// Switching. It cannot say the rest. Every changeover of a pad costs and takes
// the same, whatever comes off and whatever goes on, and a product works on any
// connection; set-up that depends on what went before hangs on whole mixes (the
// rinse), not on a connection. The order of a job's tools is kept as the adding
// order of its mix, which is when each is drawn, not where it hangs.
type Ordered struct {
	Switching
	Setup [][]int // by tool that comes off and tool that goes on
}

// ReadOrdered reads the format of Iori, Locatelli, Locatelli and
// Salazar-González (2022).
func ReadOrdered(r io.Reader) (*Ordered, error) {
	p := &orderedReader{lines: bufio.NewScanner(r)}
	jobs := p.only(p.row(1, mostJobs))
	o := &Ordered{}
	o.Tools, o.Slots = p.only(p.row(1, mostTools)), p.only(p.row(1, mostSlots))
	for range jobs {
		o.Jobs = append(o.Jobs, p.row(0, o.Tools-1))
	}
	for range o.Tools {
		row := p.row(0, mostTime)
		if p.err == nil && len(row) != o.Tools {
			p.err = fmt.Errorf("line %d: %d set-up times; expected one for each of %d tools", p.line, len(row), o.Tools)
		}
		o.Setup = append(o.Setup, row)
	}
	if p.err != nil {
		return nil, p.err
	}
	return o, o.check()
}

// orderedReader reads lines of numbers between commas; lines that are blank,
// a comment or a heading are passed over.
type orderedReader struct {
	lines *bufio.Scanner
	line  int
	err   error
}

// row reads the next line of numbers, each from least to most.
func (p *orderedReader) row(least, most int) []int {
	for p.err == nil && p.lines.Scan() {
		p.line++
		text := strings.TrimSpace(p.lines.Text())
		if text == "" || strings.HasPrefix(text, "#") || strings.HasSuffix(text, ":") {
			continue
		}
		var row []int
		for _, cell := range strings.Split(text, ",") {
			n, err := strconv.Atoi(strings.TrimSpace(cell))
			if err != nil || n < least || n > most {
				p.err = fmt.Errorf("line %d: %q: expected a whole number from %d to %d", p.line, cell, least, most)
				return nil
			}
			row = append(row, n)
		}
		return row
	}
	if p.err = orError(p.err, p.lines.Err()); p.err == nil {
		p.err = fmt.Errorf("line %d: the text ends; expected numbers", p.line+1)
	}
	return nil
}

// only returns the one number of a row.
func (p *orderedReader) only(row []int) int {
	if p.err == nil && len(row) != 1 {
		p.err = fmt.Errorf("line %d: %d numbers; expected one", p.line, len(row))
	}
	if p.err != nil {
		return 0
	}
	return row[0]
}

// Day says the instance as a day, without its set-up times.
func (o *Ordered) Day() model.Input {
	in := o.Switching.Day()
	step := map[string]int64{}
	for i := range in.Recipes {
		r := &in.Recipes[i]
		step[r.Mix]++
		r.Step = model.Some(model.WholeDecimal(step[r.Mix]))
	}
	return in
}
