package dayfiles

import (
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v3"

	"padturn/io/table"
	"padturn/model"
)

// The keys of day.yaml are the fields of [model.Settings] in snake case, so
// that neither can have one that the other lacks.

// snake turns a field's name into its key: SprayFrom into spray_from.
func snake(field string) string {
	var key strings.Builder
	for i, r := range field {
		if unicode.IsUpper(r) && i > 0 {
			key.WriteByte('_')
		}
		key.WriteRune(unicode.ToLower(r))
	}
	return key.String()
}

func fieldOf(t reflect.Type, key string) (reflect.StructField, bool) {
	for i := range t.NumField() {
		if snake(t.Field(i).Name) == key {
			return t.Field(i), true
		}
	}
	return reflect.StructField{}, false
}

func keysOf(t reflect.Type) []string {
	keys := make([]string, t.NumField())
	for i := range keys {
		keys[i] = snake(t.Field(i).Name)
	}
	return keys
}

// join appends a key to a path.
func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// keyPaths lists the paths of all settings below a type; a list's elements
// stand under [].
func keyPaths(t reflect.Type, path string) []string {
	switch t.Kind() {
	case reflect.Pointer:
		return keyPaths(t.Elem(), path)
	case reflect.Slice:
		return append([]string{path}, keyPaths(t.Elem(), path+"[]")...)
	case reflect.Struct:
		var paths []string
		if path != "" && !strings.HasSuffix(path, "[]") {
			paths = append(paths, path)
		}
		for i := range t.NumField() {
			paths = append(paths, keyPaths(t.Field(i).Type, join(path, snake(t.Field(i).Name)))...)
		}
		return paths
	case reflect.Int, reflect.Int64, reflect.Float64, reflect.String:
		if strings.HasSuffix(path, "[]") {
			return nil // an element has no key of its own
		}
		return []string{path}
	}
	panic(fmt.Sprintf("dayfiles: setting %s has type %s, which is not read", path, t))
}

var (
	allKeyPaths = keyPaths(reflect.TypeFor[model.Settings](), "")
	listNumber  = regexp.MustCompile(`\[[0-9]+\]`)
)

// suggestKey offers a known setting for an unknown one: the same key in another
// place (opens belongs under pad), or one spelt nearly so.
func suggestKey(path string) string {
	path = listNumber.ReplaceAllString(path, "[]")
	last := path[strings.LastIndex(path, ".")+1:]
	for _, known := range allKeyPaths {
		if strings.HasSuffix(known, "."+last) || known == last {
			return fmt.Sprintf("; did you mean %q?", known)
		}
	}
	return model.Suggest(path, allKeyPaths)
}

// Fault returns a fault at a key path; where the file does not have the key,
// at the nearest key above it.
func (y *settingsTree) Fault(_ int, path, value, want string) table.Fault {
	node := y.nearest(path)
	if node == y.root {
		node = nil // the whole is meant
	}
	return y.at(node, path, value, want)
}

// IsKnownBad says whether the value at a key path, or one above it, was
// reported already.
func (y *settingsTree) IsKnownBad(_ int, path string) bool {
	for {
		if y.bad[path] {
			return true
		}
		cut := strings.LastIndexAny(path, ".[")
		if cut < 0 {
			return false
		}
		path = path[:cut]
	}
}

// nearest walks down a key path as far as the file goes.
func (y *settingsTree) nearest(path string) *yaml.Node {
	node := y.root
	for node != nil && path != "" {
		step, rest := path, ""
		if cut := strings.IndexAny(path[1:], ".["); cut >= 0 {
			step, rest = path[:cut+1], path[cut+1:]
		}
		below := child(node, strings.Trim(step, ".[]"))
		if below == nil {
			return node
		}
		node, path = below, rest
	}
	return node
}

// child returns the value under a key of a mapping, or the element of a list
// with that number, or nil.
func child(node *yaml.Node, step string) *yaml.Node {
	if node.Kind == yaml.MappingNode {
		for i := 0; i < len(node.Content); i += 2 {
			if node.Content[i].Value == step {
				return node.Content[i+1]
			}
		}
	}
	if node.Kind == yaml.SequenceNode {
		for i, element := range node.Content {
			if fmt.Sprint(i) == step {
				return element
			}
		}
	}
	return nil
}
