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

// dayYAML is day.yaml as a tree of nodes that know their lines. The tree is
// walked along the type of the settings, so that every value is read from its
// own text (0.1 stays exactly that) and every fault has a place.
type dayYAML struct {
	file  string
	found *table.Findings
	root  *yaml.Node
	bad   map[string]bool // key paths whose value is none; reported
}

// maxYAMLBytes is how large day.yaml may be.
const maxYAMLBytes = 1 << 20

// parse returns the top node, which is nil where the file says nothing. False
// means that it is no YAML; that is reported.
func (y *dayYAML) parse(data []byte) (*yaml.Node, bool) {
	if len(data) > maxYAMLBytes {
		y.found.Fail(table.Fault{File: y.file, Want: fmt.Sprintf("is larger than %d MiB; settings are far smaller", maxYAMLBytes>>20)})
		return nil, false
	}
	if line := firstBadLine(data); line > 0 {
		y.found.Fail(table.Fault{File: y.file, Line: line, Want: "is not UTF-8; save the file as UTF-8"})
		return nil, false
	}
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var document, second yaml.Node
	err := decoder.Decode(&document)
	if errors.Is(err, io.EOF) {
		return nil, true
	}
	if err != nil {
		y.failSyntax(err)
		return nil, false
	}
	if err := decoder.Decode(&second); err == nil {
		y.found.Fail(table.Fault{File: y.file, Line: second.Line, Want: "a second document starts here; settings are one document"})
		return nil, false
	} else if !errors.Is(err, io.EOF) {
		y.failSyntax(err)
		return nil, false
	}
	y.root = document.Content[0]
	if y.root.Tag == "!!null" {
		return nil, true
	}
	return y.root, true
}

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

func (y *dayYAML) failSyntax(err error) {
	fault := table.Fault{File: y.file, Want: "is not YAML: " + err.Error()}
	if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
		fault.Line, _ = strconv.Atoi(m[1])
		fault.Want = "is not YAML: " + m[2]
	}
	y.found.Fail(fault)
}

// fail reports the value at a key path.
func (y *dayYAML) fail(node *yaml.Node, path, value, want string) {
	y.bad[path] = true
	y.found.Fail(table.Fault{File: y.file, Line: node.Line, Field: node.Column, Column: path, Value: value, Want: want})
}

// value returns what a node says, as a value that fits type t: a map for a
// struct, a list for a slice. False means that it says nothing usable; that is
// reported.
func (y *dayYAML) value(node *yaml.Node, t reflect.Type, path string) (any, bool) {
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

func (y *dayYAML) mapping(node *yaml.Node, t reflect.Type, path string) (any, bool) {
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
			y.fail(key, at, "", fmt.Sprintf("stands twice, first in line %d", first))
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
func (y *dayYAML) list(node *yaml.Node, t reflect.Type, path string) (any, bool) {
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
