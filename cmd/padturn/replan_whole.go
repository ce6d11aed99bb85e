package main

import (
	"context"
	"slices"

	"padturn/io/audit"
	"padturn/io/changes"
	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
	"padturn/planner"
)

// replan is a rest of a day that has its plan.
type replan struct {
	day     *model.Input // as its files have it
	told    *planfile.Document
	stands  *standing.Standing
	facts   []standing.Fact
	entries int      // of the journal, those that are undone or undo one too
	later   []string // reports that are left out, in words
	rest    *model.Input
	problem *model.Problem // of the rest
	result  *model.Result  // of the rest
}

// leftToPlan is what is left of a day to plan, and what its crew was told of it.
func leftToPlan(told *planfile.Document, stands *standing.Standing) model.Input {
	rest := stands.Rest()
	rest.Underway.ToldLeft = leftJobs(told)
	return rest
}

// leftJobs lists the jobs that a plan leaves.
func leftJobs(doc *planfile.Document) []string {
	var list []string
	for _, u := range doc.Unsprayed {
		list = append(list, u.Job)
	}
	return list
}

// judged is what the checker holds the plan against.
func (p *replan) judged(rest, whole map[string][]byte, s planner.Settings) (*audit.Replan, error) {
	told, err := planfile.Render(p.told)
	if err != nil {
		return nil, err
	}
	j := &audit.Replan{Rest: p.rest, Plan: rest, Whole: whole, Told: told, FrozenUntil: p.frozenUntil(), Begun: p.begun()}
	if s.FromScratch || len(p.rest.Underway.Told) == 0 {
		return j, nil
	}
	kept, err := planner.Plan(context.Background(), p.problem, planner.Settings{KeepTold: true})
	if err != nil {
		return nil, err
	}
	_, j.Kept, err = written(p.rest, p.problem, kept)
	return j, err
}

// frozenUntil is until when what was told to start stays where it can.
func (p *replan) frozenUntil() model.Clock {
	return p.rest.Underway.At + model.Clock(model.CeilMinutes(p.problem.Settings.FreezeMin))
}

// begun lists the loads that have begun.
func (p *replan) begun() []string {
	list := []string{}
	for i := range p.stands.Loads {
		if p.stands.Loads[i].Begun {
			list = append(list, p.stands.Loads[i].Told.ID)
		}
	}
	return list
}

// whole is the plan of the whole day: what has begun, and the rest.
func (p *replan) whole() (*planfile.Document, map[string][]byte, error) {
	behind, day := p.stands.Behind(), p.stands.Whole()
	doc, err := planfile.Build(day, planner.Joined(day, &behind, p.problem, p.result))
	if err != nil {
		return nil, nil, err
	}
	doc.Replan = &planfile.Replan{
		At: planfile.Time(behind.At), Number: p.told.Replans() + 1, Begun: p.begun(),
		FrozenUntil:   planfile.Time(p.frozenUntil()),
		ChangeDollars: planfile.Number(p.result.Plan.Disturbance.DollarsDecimal()),
	}
	doc.Day.FilesSum = planfile.SumOf(p.day)
	doc.Replan.Facts = p.entries
	for _, f := range p.facts {
		doc.Replan.Facts = max(doc.Replan.Facts, f.N)
	}
	doc.Warnings = slices.Insert(doc.Warnings, 0, p.attention().Warnings()...)
	told := changes.AsTold(p.told)
	changes.NoteUntold(told, doc, doc.Replan.Begun)
	files, err := planfile.Render(doc)
	if err != nil {
		return nil, nil, err
	}
	files[planfile.ChangesFile] = changes.CSV(changes.Between(told, doc, doc.Replan.Begun))
	return doc, files, nil
}
