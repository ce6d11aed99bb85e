package dayfiles_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"padturn/io/dayfiles"
	"padturn/model"
)

// printDay writes an input back as the files of a day folder; a table without
// rows is left out.
func printDay(in model.Input) files {
	f := files{"day.yaml": printSetting(reflect.ValueOf(in.Settings))}
	settings := []string{"day", "bays", "rinse_levels", "cleanout_levels"}
	for _, s := range dayfiles.Print(in) {
		if !slices.Contains(settings, s.Name) && len(s.Rows) > 0 {
			f[s.Name+".csv"] = printRows(s)
		}
	}
	return f
}

func printRows(s dayfiles.Sheet) string {
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	header := make([]string, len(s.Columns))
	for i, c := range s.Columns {
		header[i] = c.Name
	}
	_ = w.Write(header) // a buffer takes everything
	_ = w.WriteAll(s.Rows)
	return text.String()
}

// printSetting writes settings as YAML in one line; what is nil or blank is
// left out.
func printSetting(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Pointer:
		return printSetting(v.Elem())
	case reflect.Slice:
		list := make([]string, v.Len())
		for i := range list {
			list[i] = printSetting(v.Index(i))
		}
		return "[" + strings.Join(list, ", ") + "]"
	case reflect.Struct:
		var keys []string
		for i := range v.NumField() {
			f := v.Field(i)
			if isNil := (f.Kind() == reflect.Pointer || f.Kind() == reflect.Slice) && f.IsNil(); isNil || f.Kind() == reflect.String && f.String() == "" {
				continue
			}
			keys = append(keys, dayfiles.Snake(v.Type().Field(i).Name)+": "+printSetting(f))
		}
		return "{" + strings.Join(keys, ", ") + "}"
	}
	switch x := v.Interface().(type) {
	case model.Clock:
		return strconv.Quote(x.HHMM())
	case string:
		return strconv.Quote(x)
	case int:
		return strconv.Itoa(x)
	case model.Decimal:
		return x.String()
	case float64:
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	panic(fmt.Sprintf("no way to print a %s", v.Type()))
}
