package dayfiles

import (
	"reflect"
	"strconv"
	"strings"

	"padturn/model"
)

// Sheet is one sheet of a day as text: what a CSV of it would have.
type Sheet struct {
	Name    string
	Columns []Column
	Rows    [][]string
}

// Column is one column of a sheet.
type Column struct {
	Name     string
	Required bool // has to be there and, but for the value of a setting, filled
}

// Print writes a day as the sheets of a workbook, all of them, in the order of
// [DaySheets]. Read back, they give the same input.
func Print(in model.Input) []Sheet {
	pad := in.Settings.Pad
	sheets := []Sheet{
		printRows[jobText]("jobs", in.Jobs), printRows[mixText]("mixes", in.Mixes),
		printRows[recipeText]("recipes", in.Recipes), printRows[productText]("products", in.Products),
		printRows[stockText]("stock", in.Stock), printRows[deliveryText]("deliveries", in.Deliveries),
		printRows[sprayerText]("sprayers", in.Sprayers), printRows[ruleText]("rules", in.Rules),
		printRows[holdText]("holds", in.Holds), printRows[forecastText]("forecast", in.Forecast),
		{Name: string(model.DayTable), Columns: columnsOf[settingText]()},
		printRows[bayText](baysSheet, pad.Bays), printRows[levelText](rinseSheet, in.Settings.RinseLevels),
		printRows[levelText](cleanoutSheet, in.Settings.CleanoutLevels),
	}
	for i := range sheets {
		if sheets[i].Name == string(model.DayTable) {
			sheets[i].Rows = printSettings(in.Settings)
		}
	}
	return sheets
}

func columnsOf[T any]() []Column {
	t := reflect.TypeFor[T]()
	columns := make([]Column, t.NumField())
	for i := range columns {
		tag := t.Field(i).Tag
		columns[i] = Column{tag.Get("csv"), tag.Get("need") == "yes"}
	}
	return columns
}

// printRows prints records by the fields of T, which is the row as text and
// names its fields like the record.
func printRows[T, R any](sheet string, records []R) Sheet {
	s := Sheet{Name: sheet, Columns: columnsOf[T]()}
	for _, record := range records {
		v := reflect.ValueOf(record)
		row := make([]string, len(s.Columns))
		for i := range row {
			row[i] = printCell(v.FieldByName(reflect.TypeFor[T]().Field(i).Name))
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// printSettings has a row for every setting that is no list, blank where there
// is no value; what it is about is left to others.
func printSettings(s model.Settings) [][]string {
	var rows [][]string
	for i, path := range allKeyPaths {
		sheet, _ := sheetOf(path)
		isPart := i+1 < len(allKeyPaths) && strings.HasPrefix(allKeyPaths[i+1], path+".")
		if sheet == string(model.DayTable) && !isPart {
			rows = append(rows, []string{path, printCell(settingAt(s, path)), ""})
		}
	}
	return rows
}

// settingAt returns the value at a key path, or the nil above it.
func settingAt(s model.Settings, path string) reflect.Value {
	v := reflect.ValueOf(s)
	for key := range strings.SplitSeq(path, ".") {
		if v.Kind() == reflect.Pointer && v.IsNil() {
			return v
		}
		v = reflect.Indirect(v)
		field, _ := fieldOf(v.Type(), key)
		v = v.FieldByIndex(field.Index)
	}
	return v
}

// printCell writes a value as it is read. What is nil, and a no, is blank.
func printCell(v reflect.Value) string {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return ""
		}
		v = v.Elem()
	}
	switch x := v.Interface().(type) {
	case model.Decimal:
		return x.String()
	case model.Clock:
		return x.HHMM()
	case float64:
		return strconv.FormatFloat(x, 'f', -1, 64)
	case int:
		return strconv.Itoa(x)
	case bool:
		if x {
			return "yes"
		}
		return ""
	case []string:
		return strings.Join(x, "; ")
	}
	return v.String()
}
