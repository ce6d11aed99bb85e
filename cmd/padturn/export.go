package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"padturn/io/export/geojson"
	"padturn/io/export/ical"
	"padturn/io/export/isoxml"
	"padturn/io/planfile"
	"padturn/model"
)

func newExport() *cobra.Command {
	var to, out string
	cmd := &cobra.Command{
		Use:   "export PLAN --to FORMAT",
		Short: "write a plan for other systems: calendar, terminals, map",
		Long: "Write a plan in an open format that other systems read:\n\n" +
			"  ical     iCalendar (RFC 5545) of the fills and deliveries, in local time.\n" +
			"           -o FILE.ics writes one calendar, -o DIR one for each sprayer and one\n" +
			"           of the deliveries.\n" +
			"  isoxml   task data (ISO 11783-10) for the sprayers' terminals. -o DIR is\n" +
			"           needed: it gets a folder for each sprayer with TASKDATA/TASKDATA.XML.\n" +
			"  geojson  points of the fields (RFC 7946) with their loads, acres and times.\n\n" +
			"Without -o a calendar or a map goes to standard output.",
		Example: "  padturn export monday/plan --to ical -o monday.ics\n" +
			"  padturn export monday/plan --to isoxml -o /media/usb\n" +
			"  padturn export monday/plan --to geojson | jq '.features | length'",
		Args:              oneArgument("PLAN", planMeaning),
		ValidArgsFunction: folders,
		RunE: func(cmd *cobra.Command, args []string) error {
			write, ok := exporters[to]
			if !ok {
				return fmt.Errorf("--to %q: expected ical, isoxml or geojson", to)
			}
			doc, err := readPlan(args[0])
			if err != nil {
				return err
			}
			return write(exporting{doc, out, cmd.OutOrStdout(), cmd.ErrOrStderr()})
		},
	}
	cmd.Flags().StringVar(&to, "to", "", "`format`: ical, isoxml or geojson")
	cmd.Flags().StringVarP(&out, "out", "o", "", "`file` or folder to write")
	if err := errors.Join(cmd.MarkFlagRequired("to"), cmd.RegisterFlagCompletionFunc("to", cobra.FixedCompletions(
		[]string{"ical\tfills and deliveries", "isoxml\ttasks for terminals", "geojson\tfields on a map"},
		cobra.ShellCompDirectiveNoFileComp))); err != nil {
		panic("padturn: " + err.Error()) // the flag is missing: a mistake in this file
	}
	return cmd
}

// exporting is one export under way.
type exporting struct {
	doc            *planfile.Document
	out            string
	stdout, stderr io.Writer
}

var exporters = map[string]func(exporting) error{
	"ical": exporting.calendars, "isoxml": exporting.taskData, "geojson": exporting.fieldMap,
}

func (e exporting) calendars() error {
	if e.out != "" && e.out != "-" && !strings.EqualFold(filepath.Ext(e.out), ".ics") {
		return e.calendarFolder()
	}
	data, err := ical.All(e.doc)
	if err != nil {
		return wrongInput("%v", err)
	}
	return e.write(e.out, data)
}

// calendarFolder writes a calendar for each sprayer that is filled, and one of
// the deliveries if there are any.
func (e exporting) calendarFolder() error {
	names := fileNames{}
	deliveries := names.of("deliveries")
	for _, s := range e.doc.Sprayers {
		data, err := ical.OfSprayer(e.doc, s.Sprayer)
		if err := e.writeCalendar(names.of(s.Sprayer), data, err); err != nil {
			return err
		}
	}
	data, err := ical.Deliveries(e.doc)
	return e.writeCalendar(deliveries, data, err)
}

func (e exporting) writeCalendar(name string, data []byte, err error) error {
	if errors.Is(err, ical.ErrEmpty) {
		return nil
	}
	if err != nil {
		return wrongInput("%v", err)
	}
	return e.write(filepath.Join(e.out, name+".ics"), data)
}

func (e exporting) taskData() error {
	if e.out == "" || e.out == "-" {
		return errors.New("--to isoxml needs -o DIR: the folder that gets a folder for each sprayer")
	}
	told, names := map[string]bool{}, fileNames{}
	for _, s := range e.doc.Sprayers {
		if !e.sprays(s.Sprayer) {
			continue
		}
		data, shortened, err := isoxml.TaskData(e.doc, isoxml.Options{Sprayer: s.Sprayer, Version: buildVersion().Version})
		if err != nil {
			return wrongInput("the plan cannot be written as task data: %v", err)
		}
		for _, name := range shortened {
			if !told[name] {
				fmt.Fprintf(e.stderr, "%q is cut to 32 characters, the most that task data can hold\n", name)
			}
			told[name] = true
		}
		if err := e.write(filepath.Join(e.out, names.of(s.Sprayer), "TASKDATA", "TASKDATA.XML"), data); err != nil {
			return err
		}
	}
	return nil
}

func (e exporting) sprays(sprayer string) bool {
	for _, l := range e.doc.Loads {
		if l.Sprayer == sprayer {
			return true
		}
	}
	return false
}

func (e exporting) fieldMap() error {
	data, unplaced, err := geojson.Fields(e.doc)
	if err != nil {
		return wrongInput("the plan cannot be written as GeoJSON: %v", err)
	}
	if n := len(unplaced); n > 0 {
		fmt.Fprintf(e.stderr, "%s without lat and lon: in the file without a place, so not seen on a map: %s\n", model.Count(n, "field"), strings.Join(unplaced, ", "))
	}
	return e.write(e.out, data)
}

func (e exporting) write(path string, data []byte) error {
	return writeOut(e.stdout, e.stderr, path, data)
}
