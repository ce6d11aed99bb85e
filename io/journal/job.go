package journal

import (
	"fmt"
	"slices"
	"strconv"

	"padturn/io/table"
	"padturn/model"
	"padturn/model/standing"
)

// JobNews makes news of a job from cells as jobs.csv has them, by column; a
// blank cell is one without a value. Its error names the column, the value and
// what was expected.
func JobNews(change standing.JobChange, name string, cells map[string]string) (standing.News, error) {
	m := standing.JobMark{Change: change, Row: model.JobRow{Job: name}}
	if err := oneOf("job.change", string(change), string(standing.JobAdded), string(standing.JobChanged), string(standing.JobDropped)); err != nil {
		return m, err
	}
	if err := table.CheckName(name); err != nil {
		return m, fmt.Errorf("job %q %w", name, err)
	}
	for _, column := range standing.JobColumns() {
		text, given := cells[column]
		if !given {
			continue
		}
		m.Given = append(m.Given, column)
		if err := setCell(&m.Row, column, text); err != nil {
			return m, fmt.Errorf("%s: %q %w", column, text, err)
		}
	}
	for column := range cells {
		if !slices.Contains(m.Given, column) {
			return m, fmt.Errorf("a job has no %q%s", column, model.Suggest(column, standing.JobColumns()))
		}
	}
	return m, nil
}

// setCell reads a cell into a row.
func setCell(r *model.JobRow, column, text string) error {
	name := func(to *string) error { *to = text; return table.CheckName(text) }
	switch column {
	case "field":
		return name(&r.Field)
	case "sprayer":
		r.Sprayer = text
	case "mix":
		r.Mix = text
	case "customer":
		return name(&r.Customer)
	case "crop":
		return name(&r.Crop)
	case "note":
		r.Note = text
	case "acres":
		acres, err := table.ParseDecimal(text)
		r.Acres = acres
		return err
	case "drive_min":
		return parsed(&r.DriveMin, text, table.ParseDecimal)
	case "priority":
		return parsed(&r.Priority, text, table.ParseDecimal)
	case "gpa":
		return parsed(&r.GPA, text, table.ParseDecimal)
	case "lat":
		return parsed(&r.Lat, text, func(s string) (float64, error) { return table.ParseDegrees(s, 90) })
	case "lon":
		return parsed(&r.Lon, text, func(s string) (float64, error) { return table.ParseDegrees(s, 180) })
	case "earliest":
		return parsed(&r.Earliest, text, model.ParseHHMM)
	case "due":
		return parsed(&r.Due, text, model.ParseHHMM)
	}
	return nil
}

// parsed reads a cell that may be blank.
func parsed[T any](to **T, text string, parse func(string) (T, error)) error {
	if text == "" {
		*to = nil
		return nil
	}
	value, err := parse(text)
	*to = &value
	return err
}

// jobCells is the other way round: what a mark gives, as cells.
func jobCells(m *standing.JobMark) map[string]string {
	cells := map[string]string{}
	for _, column := range m.Given {
		cells[column] = cellOf(&m.Row, column)
	}
	if len(cells) == 0 {
		return nil
	}
	return cells
}

// JobCells lists what a mark gives, as column=value.
func JobCells(m *standing.JobMark) []string {
	var list []string
	for _, column := range m.Given {
		list = append(list, column+"="+cellOf(&m.Row, column))
	}
	return list
}

func cellOf(r *model.JobRow, column string) string {
	switch column {
	case "field":
		return r.Field
	case "sprayer":
		return r.Sprayer
	case "mix":
		return r.Mix
	case "customer":
		return r.Customer
	case "crop":
		return r.Crop
	case "note":
		return r.Note
	case "acres":
		return r.Acres.String()
	case "drive_min":
		return textOf(r.DriveMin, model.Decimal.String)
	case "priority":
		return textOf(r.Priority, model.Decimal.String)
	case "gpa":
		return textOf(r.GPA, model.Decimal.String)
	case "lat":
		return textOf(r.Lat, degrees)
	case "lon":
		return textOf(r.Lon, degrees)
	case "earliest":
		return textOf(r.Earliest, model.Clock.HHMM)
	case "due":
		return textOf(r.Due, model.Clock.HHMM)
	}
	return ""
}

func degrees(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func textOf[T any](v *T, text func(T) string) string {
	if v == nil {
		return ""
	}
	return text(*v)
}
