package dayfiles

import (
	"reflect"

	"github.com/go-viper/mapstructure/v2"
	"github.com/spf13/viper"

	"padturn/model"
)

// readSettings reads the settings over the defaults.
func (r *reader) readSettings() model.Settings {
	settings := model.DefaultSettings()
	y, ok := r.source.settings(&r.found)
	if y != nil {
		r.places[model.DayTable] = y
	}
	if !ok {
		r.unread = append(r.unread, model.DayTable)
		return settings
	}
	if y.root == nil {
		return settings
	}
	values, ok := y.value(y.root, reflect.TypeFor[model.Settings](), "")
	if !ok {
		return settings
	}
	if err := merge(&settings, values.(map[string]any)); err != nil {
		r.found.Fail(y.at(nil, "", "", err.Error()))
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
