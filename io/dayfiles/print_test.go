package dayfiles_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"padturn/io/dayfiles"
	"padturn/model"
)

// printDay writes an input back as the files of a day folder.
func printDay(in model.Input) files {
	f := files{"day.yaml": printSetting(reflect.ValueOf(in.Settings))}
	v := reflect.ValueOf(in)
	for i := range v.NumField() {
		if rows := v.Field(i); rows.Kind() == reflect.Slice && !rows.IsNil() {
			f[strings.ToLower(v.Type().Field(i).Name)+".csv"] = printRows(rows)
		}
	}
	return f
}

// columnNames are the columns that are not the field's name in snake case.
var columnNames = map[string]string{"GPA": "gpa", "EPARegNo": "epa_reg_no", "PPE": "ppe"}

func printRows(rows reflect.Value) string {
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	t := rows.Type().Elem()
	header := make([]string, t.NumField())
	for i := range header {
		name := t.Field(i).Name
		header[i] = columnNames[name]
		if header[i] == "" {
			header[i] = dayfiles.Snake(name)
		}
	}
	_ = w.Write(header) // a buffer takes everything
	for i := range rows.Len() {
		record := make([]string, t.NumField())
		for j := range record {
			record[j] = printCell(rows.Index(i).Field(j))
		}
		_ = w.Write(record)
	}
	w.Flush()
	return text.String()
}

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
	case bool:
		if x {
			return "yes"
		}
		return "no"
	case []string:
		return strings.Join(x, ";")
	}
	return v.String()
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
	case model.Decimal, float64:
		return printCell(v)
	}
	panic(fmt.Sprintf("no way to print a %s", v.Type()))
}
