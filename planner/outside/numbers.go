package outside

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
)

// Limits of what is read: far above every published instance, and low enough
// that a damaged file does not take the machine's memory.
const (
	mostJobs  = 2000
	mostTools = 1000
	mostTime  = 1_000_000_000
)

// Limits of what a pad can have.
const (
	mostSlots   = 100     // connections of a bay
	mostMinutes = 24 * 60 // of a rinse, a changeover or a cleanout
	mostGPA     = 1000    // gal/ac of a mix
)

// words reads a text as words between blanks. After its first error all it
// returns is empty.
type words struct {
	in   *bufio.Scanner
	read int
	err  error
}

func newWords(r io.Reader) *words {
	in := bufio.NewScanner(r)
	in.Split(bufio.ScanWords)
	return &words{in: in}
}

// more says whether there is another word, and makes it the current one.
func (w *words) more() bool {
	if w.err != nil || !w.in.Scan() {
		w.err = orError(w.err, w.in.Err())
		return false
	}
	w.read++
	return true
}

func orError(first, second error) error {
	if first != nil {
		return first
	}
	return second
}

// number reads a whole number from least to most; what names it in errors.
func (w *words) number(what string, least, most int) int {
	if !w.more() {
		w.err = orError(w.err, fmt.Errorf("word %d: the text ends; expected %s", w.read+1, what))
		return 0
	}
	n, err := strconv.Atoi(w.in.Text())
	if err != nil || n < least || n > most {
		w.err = fmt.Errorf("word %d: %q: expected %s, a whole number from %d to %d", w.read, w.in.Text(), what, least, most)
		return 0
	}
	return n
}

// numbers reads n whole numbers.
func (w *words) numbers(n int, what string, least, most int) []int {
	list := make([]int, 0, min(n, mostJobs))
	for range n {
		list = append(list, w.number(what, least, most))
		if w.err != nil {
			return nil
		}
	}
	return list
}

// end makes sure that nothing follows.
func (w *words) end() error {
	if w.err == nil && w.more() {
		w.err = fmt.Errorf("word %d: %q: expected the end of the text", w.read, w.in.Text())
	}
	return w.err
}

// needs reads a matrix with a row for each tool and a column for each job, 1
// where the job needs the tool, and returns the tools of each job.
func (w *words) needs(tools, jobs int) [][]int {
	list := make([][]int, jobs)
	for tool := range tools {
		for job := range jobs {
			if w.number("0 or 1", 0, 1) == 1 {
				list[job] = append(list[job], tool)
			}
			if w.err != nil {
				return nil
			}
		}
	}
	return list
}
