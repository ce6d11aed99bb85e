package dayfiles

import (
	"encoding/csv"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"padturn/model"
)

// Files writes a day as the files of a day folder, by their names; a table
// without rows is left out. Read back, they give the same input.
func Files(in model.Input) map[string]string {
	files := map[string]string{"day.yaml": yamlOf(reflect.ValueOf(in.Settings)) + "\n"}
	settings := []string{string(model.DayTable), baysSheet, rinseSheet, cleanoutSheet}
	for _, s := range Print(in) {
		if !slices.Contains(settings, s.Name) && len(s.Rows) > 0 {
			files[s.Name+".csv"] = csvOf(s)
		}
	}
	return files
}

func csvOf(s Sheet) string {
	var text strings.Builder
	w := csv.NewWriter(&text)
	header := make([]string, len(s.Columns))
	for i, c := range s.Columns {
		header[i] = c.Name
	}
	_ = w.WriteAll(append([][]string{header}, s.Rows...)) // a builder takes everything
	return text.String()
}

// yamlOf writes settings as YAML in one line; what is nil or blank is left out.
func yamlOf(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Pointer:
		return yamlOf(v.Elem())
	case reflect.Slice:
		list := make([]string, v.Len())
		for i := range list {
			list[i] = yamlOf(v.Index(i))
		}
		return "[" + strings.Join(list, ", ") + "]"
	case reflect.Struct:
		return "{" + strings.Join(yamlKeys(v), ", ") + "}"
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

func yamlKeys(v reflect.Value) []string {
	var keys []string
	for i := range v.NumField() {
		f := v.Field(i)
		isNil := (f.Kind() == reflect.Pointer || f.Kind() == reflect.Slice) && f.IsNil()
		if isNil || f.Kind() == reflect.String && f.String() == "" {
			continue
		}
		keys = append(keys, snake(v.Type().Field(i).Name)+": "+yamlOf(f))
	}
	return keys
}
