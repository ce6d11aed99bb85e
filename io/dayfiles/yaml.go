package dayfiles

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"padturn/io/table"
)

// settingsTree is the settings as a tree of nodes that know their places. The
// tree is walked along the type of the settings, so that every value is read
// from its own text (0.1 stays exactly that) and every fault has a place. It
// is read from day.yaml, or built of the cells of a workbook.
type settingsTree struct {
	place table.Fault // of the settings as a whole
	found *table.Findings
	root  *yaml.Node
	bad   map[string]bool // key paths whose value is none; reported
	// ofCells trees are of a workbook: their texts know no quotes, and lists
	// have sheets of their own.
	ofCells bool
}

func newSettingsTree(place table.Fault, found *table.Findings) *settingsTree {
	return &settingsTree{place: place, found: found, bad: map[string]bool{}}
}

// at is a fault at a node, or about the whole where there is none.
func (y *settingsTree) at(node *yaml.Node, path, value, want string) table.Fault {
	fault := y.place
	fault.Column, fault.Value, fault.Want = path, value, want
	if node != nil {
		fault.Line, fault.Field = node.Line, node.Column
	}
	if y.ofCells {
		fault.Sheet, fault.Column = sheetOf(path)
	}
	return fault
}

// warn says something about the settings as a whole.
func (y *settingsTree) warn(want string) { y.found.Warn(y.at(nil, "", "", want)) }

// maxYAMLBytes is how large day.yaml may be.
const maxYAMLBytes = 1 << 20

// parse reads day.yaml. False means that it is no YAML; that is reported.
func (y *settingsTree) parse(data []byte) bool {
	refuse := func(line int, want string) bool {
		fault := y.at(nil, "", "", want)
		fault.Line = line
		y.found.Fail(fault)
		return false
	}
	if len(data) > maxYAMLBytes {
		return refuse(0, fmt.Sprintf("is larger than %d MiB; settings are far smaller", maxYAMLBytes>>20))
	}
	if line := firstBadLine(data); line > 0 {
		return refuse(line, "is not UTF-8; save the file as UTF-8")
	}
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var document, second yaml.Node
	switch err := decoder.Decode(&document); {
	case errors.Is(err, io.EOF):
		y.warn(saysNothing)
		return true
	case err != nil:
		return refuse(syntax(err))
	}
	switch err := decoder.Decode(&second); {
	case err == nil:
		return refuse(second.Line, "a second document starts here; settings are one document")
	case !errors.Is(err, io.EOF):
		return refuse(syntax(err))
	}
	if document.Content[0].Tag == "!!null" {
		y.warn(saysNothing)
		return true
	}
	y.root = document.Content[0]
	return true
}

const saysNothing = "says nothing; all settings are the defaults"

// firstBadLine returns the first line that is not UTF-8, or 0.
func firstBadLine(data []byte) int {
	if utf8.Valid(data) {
		return 0
	}
	line := 1
	for text := range bytes.Lines(data) {
		if !utf8.Valid(text) {
			return line
		}
		line++
	}
	return line
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line ([0-9]+): )?(.*)$`)

// syntax is the line that the library found wrong, 0 where it says none, and
// its words.
func syntax(err error) (line int, want string) {
	m := yamlLine.FindStringSubmatch(err.Error())
	if m == nil {
		return 0, "is not YAML: " + err.Error()
	}
	line, _ = strconv.Atoi(m[1])
	return line, "is not YAML: " + m[2]
}

// fail reports the value at a key path.
func (y *settingsTree) fail(node *yaml.Node, path, value, want string) {
	y.bad[path] = true
	y.found.Fail(y.at(node, path, value, want))
}

// value returns what a node says, as a value that fits type t: a map for a
// struct, a list for a slice. False means that it says nothing usable; that is
// reported.
func (y *settingsTree) value(node *yaml.Node, t reflect.Type, path string) (any, bool) {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case node.Kind == yaml.AliasNode || node.Anchor != "":
		y.fail(node, path, "", "anchors and aliases are not read; write the value out")
	case node.Style&yaml.TaggedStyle != 0:
		y.fail(node, path, node.Tag, "tags are not read; write only the value")
	case node.Tag == "!!null", node.Kind == yaml.MappingNode && len(node.Content) == 0:
		y.fail(node, path, "", "is empty; give a value, or leave the key out for the default")
	case t.Kind() == reflect.Struct:
		return y.mapping(node, t, path)
	case t.Kind() == reflect.Slice:
		return y.list(node, t, path)
	case node.Kind != yaml.ScalarNode:
		y.fail(node, path, "", "expected "+wantedScalar(t)+", not a list or keys of its own")
	default:
		return y.scalar(node, t, path)
	}
	return nil, false
}

func (y *settingsTree) mapping(node *yaml.Node, t reflect.Type, path string) (any, bool) {
	if node.Kind != yaml.MappingNode {
		y.fail(node, path, node.Value, "expected keys of its own: "+strings.Join(keysOf(t), ", "))
		return nil, false
	}
	values, lines := map[string]any{}, map[string]int{}
	for i := 0; i < len(node.Content); i += 2 {
		key, below := node.Content[i], node.Content[i+1]
		at := join(path, key.Value)
		field, known := fieldOf(t, key.Value)
		first, twice := lines[key.Value]
		switch {
		case key.Kind != yaml.ScalarNode || !known:
			y.fail(key, at, "", "unknown setting"+suggestKey(at))
		case twice:
			y.fail(key, at, "", fmt.Sprintf("stands twice, first in %s %d", y.lineWord(), first))
		default:
			lines[key.Value] = key.Line
			if value, ok := y.value(below, field.Type, at); ok {
				values[key.Value] = value
			} else if isDegrees(field.Type) {
				values[key.Value] = 0.0 // there, if wrong: its partner does not miss it
			}
		}
	}
	return values, true
}

// list keeps the place of an element that says nothing usable, so that those
// behind it keep their number.
func (y *settingsTree) list(node *yaml.Node, t reflect.Type, path string) (any, bool) {
	if node.Kind != yaml.SequenceNode {
		y.fail(node, path, node.Value, "expected a list")
		return nil, false
	}
	list := make([]any, len(node.Content))
	for i, below := range node.Content {
		value, ok := y.value(below, t.Elem(), fmt.Sprintf("%s[%d]", path, i))
		switch {
		case ok:
			list[i] = value
		case t.Elem().Kind() == reflect.Struct:
			list[i] = map[string]any{}
		default:
			list[i] = reflect.Zero(t.Elem()).Interface()
		}
	}
	return list, true
}
