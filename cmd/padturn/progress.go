package main

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"padturn/planner"
)

// A search shorter than quietFor shows no progress: a line that flashes up only
// disturbs.
const (
	quietFor   = 500 * time.Millisecond
	redrawEach = 200 * time.Millisecond
)

// progress is one line that says how far a search is, redrawn in place. It is
// plain text: no colours and no cursor codes that a plain terminal would print.
type progress struct {
	w     io.Writer
	width int // of the terminal; a line that wraps could not be drawn over
	mu    sync.Mutex
	last  planner.Progress
	since time.Time // when it was first heard of a proof
	shown int       // how wide the line on the terminal is
	quit  chan struct{}
	gone  chan struct{}
}

// showProgress starts a progress line on a terminal of that width. Its heard
// may be called from any goroutine; its end takes the line away.
func showProgress(w io.Writer, width int) *progress {
	p := &progress{w: w, width: width, quit: make(chan struct{}), gone: make(chan struct{})}
	go p.draw()
	return p
}

func (p *progress) heard(now planner.Progress) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.last.Proving && now.Proving {
		p.since = time.Now()
	}
	p.last = now
}

func (p *progress) end() {
	close(p.quit)
	<-p.gone
}

func (p *progress) draw() {
	defer close(p.gone)
	wait := quietFor
	for {
		select {
		case <-p.quit:
			if p.shown > 0 {
				p.put("")
				fmt.Fprint(p.w, "\r")
			}
			return
		case <-time.After(wait):
			p.put(p.line())
			wait = redrawEach
		}
	}
}

// put draws a line over the one before it.
func (p *progress) put(line string) {
	line = line[:min(len(line), p.width-1)]
	fmt.Fprintf(p.w, "\r%s%s", line, strings.Repeat(" ", max(p.shown-len(line), 0)))
	p.shown = len(line)
}

func (p *progress) line() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.last.Of == 0 {
		return "planning (Ctrl-C for the best plan so far)"
	}
	if p.last.Proving {
		return p.proving()
	}
	undone := ""
	if p.last.Left > 0 {
		undone = ", work left undone"
	}
	return message.NewPrinter(language.English).Sprintf(
		"planning: step %d of %d, best $%.0f%s (Ctrl-C takes it)", p.last.Steps, p.last.Of, p.last.Dollars, undone)
}

// proving says how close plan and bound are, and for how long it has been at it: a pass
// of a proof may take minutes in which neither moves.
func (p *progress) proving() string {
	took := time.Since(p.since).Truncate(time.Second)
	print := message.NewPrinter(language.English)
	words := print.Sprintf("proving, %d:%02d: best $%.2f, ", int(took.Minutes()), int(took.Seconds())%60, p.last.Dollars)
	if p.last.Bound > 0 {
		words += print.Sprintf("none below $%.2f (%.1f %%), ", p.last.Bound, apart(p.last))
	}
	return words + "Ctrl-C takes it"
}

// apart is by how many per cent of the bound a plan is dearer.
func apart(now planner.Progress) float64 { return 100 * (now.Dollars - now.Bound) / now.Bound }

// closingIn says how close plan and bound are.
func closingIn(now planner.Progress) string {
	return message.NewPrinter(language.English).Sprintf("proving: best $%.2f, none below $%.2f, %.1f %% apart", now.Dollars, now.Bound, apart(now))
}

// tellProof prints how plan and bound close in, a line each time one of them
// moves, where no progress line is drawn.
func tellProof(w io.Writer) func(planner.Progress) {
	var last planner.Progress
	return func(now planner.Progress) {
		if now.Bound > 0 && (now.Bound != last.Bound || now.Dollars != last.Dollars) {
			fmt.Fprintln(w, closingIn(now))
			last = now
		}
	}
}
