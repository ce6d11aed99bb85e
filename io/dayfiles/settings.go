package dayfiles

import (
	"reflect"
	"slices"

	"github.com/go-viper/mapstructure/v2"
	"github.com/spf13/viper"

	"padturn/io/table"
	"padturn/model"
)

// readSettings reads day.yaml over the defaults; without the file they are the
// settings.
func (r *reader) readSettings() model.Settings {
	settings := model.DefaultSettings()
	data, ok := r.readFile(model.DayTable)
	if !ok {
		if !slices.Contains(r.unread, fileName(model.DayTable)) {
			r.found.Warn(table.Fault{File: fileName(model.DayTable), Want: "there is no such file; all settings are the defaults"})
		}
		return settings
	}
	y := &dayYAML{file: fileName(model.DayTable), found: &r.found, bad: map[string]bool{}}
	r.places[model.DayTable] = y
	root, ok := y.parse(data)
	if !ok {
		r.unread = append(r.unread, y.file)
		return settings
	}
	if root == nil {
		r.found.Warn(table.Fault{File: y.file, Want: "says nothing; all settings are the defaults"})
		return settings
	}
	values, ok := y.value(root, reflect.TypeFor[model.Settings](), "")
	if !ok {
		return settings
	}
	if err := merge(&settings, values.(map[string]any)); err != nil {
		r.found.Fail(table.Fault{File: y.file, Want: err.Error()})
	}
	return settings
}

// merge puts values, which are known to fit, over the settings.
func merge(settings *model.Settings, values map[string]any) error {
	// Keys here are only a-z, 0-9 and _, so neither the lower-casing of keys
	// nor the delimiter can touch them.
	v := viper.NewWithOptions(viper.KeyDelimiter("::"))
	if err := v.MergeConfigMap(values); err != nil {
		return err
	}
	return v.Unmarshal(settings, func(d *mapstructure.DecoderConfig) {
		d.ErrorUnused, d.WeaklyTypedInput = true, false
		d.ZeroFields = true // a list in the file replaces the default list and takes nothing from it
		d.MatchName = func(key, field string) bool { return key == snake(field) }
		d.DecodeHook = fillBay
	})
}

// fillBay gives each bay in the file the defaults of a bay before its own
// values are put over them.
func fillBay(from, to reflect.Value) (any, error) {
	if to.Type() == reflect.TypeFor[model.BaySettings]() {
		bay := model.DefaultBay()
		bay.Name = ""
		to.Set(reflect.ValueOf(bay))
	}
	return from.Interface(), nil
}
