package audit

import (
	"fmt"

	"padturn/model"
)

// Check judges a plan by its files (file name to content) and the records of
// the day it was made for. It returns every breach it finds, in the order of
// the rules; none means that the plan keeps R1 to R11 and that its cost is
// what cost.csv says. The input is one that model.NewProblem accepts.
func Check(in *model.Input, files map[string][]byte) []model.Violation {
	a := &audit{d: newDay(in), files: files, byID: map[string]*load{}}
	a.readPlan()
	a.checkOrder()

	a.checkJobs()
	a.checkRuns()
	a.checkAmounts()
	a.reckonLoads()
	a.checkFilling()
	a.checkRinses()
	a.checkConnections()
	a.checkTurns()
	a.checkBays()
	a.checkStock()
	a.checkWater()
	a.checkHours()
	a.checkCost()
	a.checkDocument()
	return a.found
}

// audit is a check under way: the day, the plan as read, and what was found.
type audit struct {
	d     *day
	files map[string][]byte
	found []model.Violation

	loads     []*load // in file order
	byID      map[string]*load
	changes   []*change
	spans     []*spanRow
	stockRows []*stockRow
	waterRows []*waterRow
	costRows  []*costRow
	unsprayed []*unsprayedRow

	stock map[*product][]*stockEvent
	water []*waterEvent
}

// breach notes that a rule is broken.
func (a *audit) breach(rule, where, format string, args ...any) {
	a.found = append(a.found, model.Violation{Rule: rule, Where: where, What: fmt.Sprintf(format, args...)})
}

// differs notes that a figure is not what it should be, if so.
func (a *audit) differs(rule, where, what string, seen, want any) {
	if seen != want {
		a.breach(rule, where, "%s is %v, expected %v", what, seen, want)
	}
}
