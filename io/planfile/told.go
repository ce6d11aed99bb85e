package planfile

import (
	"fmt"

	"padturn/model"
	"padturn/model/standing"
)

// ToldOn is Told on a day as its files have it now.
func (d *Document) ToldOn(day *model.Input) standing.Told {
	told := d.Told()
	told.Same = d.Day.FilesSum == SumOf(day)
	return told
}

// Told returns a plan as the crew was told it, for working out where the day
// stands.
func (d *Document) Told() standing.Told {
	var at model.Clock
	facts := 0
	if d.Replan != nil {
		at, facts = model.Clock(d.Replan.At), d.Replan.Facts
	}
	return standing.Told{At: at, Facts: facts, Loads: each(d.Loads, toldLoad), Changes: each(d.Changeovers, func(c Changeover) standing.Changeover {
		return standing.Changeover{
			Bay: c.Bay, Connection: c.Connection - 1, At: model.Clock(c.At), Off: c.Off, On: c.On, Load: c.Load, Inside: c.Inside,
		}
	})}
}

func toldLoad(l Load) standing.Planned {
	out := standing.Planned{
		ID: l.Load, Bay: l.Bay, Sprayer: l.Sprayer, Mix: l.Mix, Run: l.Run, CarrierGal: model.Decimal(l.CarrierGal),
		Rinse: l.Rinse, Cleanout: l.Cleanout,
		CleanoutFrom: model.Clock(l.CleanoutFrom), Ready: model.Clock(l.Ready), SetupStart: model.Clock(l.SetupStart),
		Start: model.Clock(l.Start), End: model.Clock(l.End), BackAt: model.Clock(l.BackAt),
		Stood:    model.Seconds(l.WaitS+l.HeldS) - model.Seconds(l.Start-l.Ready),
		DriveOut: model.Seconds(l.DriveOutS), DriveBack: model.Seconds(l.DriveBackS),
	}
	out.Parts = each(l.Parts, func(p Part) standing.Part {
		return standing.Part{
			Job: p.Job, Acres: model.Decimal(p.Acres), Drive: model.Seconds(p.DriveS), Spray: model.Seconds(p.SprayS),
			SprayedAt: model.Clock(p.SprayedAt),
		}
	})
	for _, step := range l.Steps {
		if step.Product != model.Water {
			out.Doses = append(out.Doses, standing.Dose{
				Product: step.Product, Amount: model.Decimal(step.Amount), Metered: step.Source == SourceMetered,
			})
		}
	}
	return out
}

// Replanned says which replan a plan is, such as "replan 1 at 10:20"; it is blank
// for the plan of a whole day.
func (d *Document) Replanned() string {
	if d.Replan == nil {
		return ""
	}
	return fmt.Sprintf("replan %d at %s", d.Replan.Number, model.Clock(d.Replan.At).HHMM())
}

// Replans is how many times the day was planned anew, this plan counted in.
func (d *Document) Replans() int {
	if d.Replan == nil {
		return 0
	}
	return d.Replan.Number
}

// Title says which plan it is, such as "Plan for 2026-06-11, replan 1 at 10:20".
func (d *Document) Title() string {
	title := "Plan"
	if d.Day.Date != "" {
		title += " for " + d.Day.Date
	}
	if words := d.Replanned(); words != "" {
		title += ", " + words
	}
	return title
}
