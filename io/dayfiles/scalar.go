package dayfiles

import (
	"errors"
	"fmt"
	"reflect"
	"strings"

	"go.yaml.in/yaml/v3"

	"padturn/io/table"
	"padturn/model"
)

// scalar reads one value of day.yaml from its own text. YAML would read 1e3,
// 0x10, 010 and 06:30 in ways of its own, which differ between its versions;
// none of them is accepted here.
func (y *settingsTree) scalar(node *yaml.Node, t reflect.Type, path string) (any, bool) {
	value, err := y.parseScalar(node, t, path)
	if err != nil {
		y.fail(node, path, node.Value, err.Error())
		return nil, false
	}
	return value, true
}

func (y *settingsTree) parseScalar(node *yaml.Node, t reflect.Type, path string) (any, error) {
	switch t {
	case reflect.TypeFor[model.Clock]():
		if y.ofCells {
			return model.ParseHHMM(node.Value)
		}
		return parseQuotedClock(node)
	case reflect.TypeFor[model.Decimal]():
		return parseBare(node, table.ParseDecimal)
	case reflect.TypeFor[int]():
		count, err := parseBare(node, table.ParseCount)
		return int(count / model.One), err
	case reflect.TypeFor[float64]():
		if strings.HasSuffix(path, "lat") {
			return parseBare(node, parseLatitude)
		}
		return parseBare(node, parseLongitude)
	case reflect.TypeFor[string]():
		return parseText(node)
	}
	panic(fmt.Sprintf("dayfiles: setting %s has type %s, which is not read", path, t))
}

// wantedScalar says in words what parseScalar expects.
func wantedScalar(t reflect.Type) string {
	switch t {
	case reflect.TypeFor[model.Clock]():
		return "a time in quotes"
	case reflect.TypeFor[string]():
		return "a text"
	}
	return "a number"
}

// isDegrees says whether a setting is a latitude or a longitude.
func isDegrees(t reflect.Type) bool { return t == reflect.TypeFor[*float64]() }

func isQuoted(node *yaml.Node) bool {
	return node.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0
}

func parseQuotedClock(node *yaml.Node) (model.Clock, error) {
	clock, err := model.ParseHHMM(node.Value)
	if err == nil && !isQuoted(node) {
		return 0, fmt.Errorf("is a time without quotes, which other readers of YAML take for a number; write %q", node.Value)
	}
	return clock, err
}

// parseBare reads a number that stands without quotes.
func parseBare[T any](node *yaml.Node, parse func(string) (T, error)) (T, error) {
	var zero T
	switch {
	case isQuoted(node), node.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return zero, errors.New("is a text; write the number without quotes")
	case node.Tag == "!!bool":
		return zero, errors.New("is not a number")
	}
	return parse(node.Value)
}

// parseText reads a text. All texts of day.yaml are names or words, so the
// rules of names hold for them.
func parseText(node *yaml.Node) (string, error) {
	// A date is the one kind of text that YAML knows better and that is
	// commonly written without quotes.
	if node.Tag != "!!str" && node.Tag != "!!timestamp" {
		return "", fmt.Errorf("is not a text; write it in quotes")
	}
	text := strings.TrimSpace(node.Value)
	if text == "" {
		return "", errors.New("is blank; give a value, or leave the key out for the default")
	}
	return text, table.CheckName(text)
}
