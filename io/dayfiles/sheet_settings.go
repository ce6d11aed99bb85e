package dayfiles

import (
	"fmt"
	"reflect"
	"strings"

	"go.yaml.in/yaml/v3"

	"padturn/io/table"
	"padturn/model"
)

// In a workbook the settings are rows of sheet day, and what day.yaml has as a
// list is a sheet with a row for each element. All of it becomes the tree that
// day.yaml would be, with the places of the cells, so that nothing is checked
// twice.

// The sheets of the lists, and where in the settings these belong.
const (
	baysSheet     = "bays"
	rinseSheet    = "rinse_levels"
	cleanoutSheet = "cleanout_levels"
	baysPath      = "pad.bays"
)

// sheetOf returns the sheet that a key path stands in, and what its row or
// column there is called.
func sheetOf(path string) (sheet, column string) {
	for list, sheet := range map[string]string{baysPath: baysSheet, rinseSheet: rinseSheet, cleanoutSheet: cleanoutSheet} {
		if below, ok := strings.CutPrefix(path, list); ok && (below == "" || below[0] == '[') {
			_, column, _ := strings.Cut(below, "].")
			return sheet, listNumber.ReplaceAllString(column, "")
		}
	}
	return string(model.DayTable), path
}

// lineWord is what a line of the settings' file is called.
func (y *settingsTree) lineWord() string {
	if y.ofCells {
		return "row"
	}
	return "line"
}

// listSheets are the sheets that are lists, and how their rows are added.
var listSheets = []struct {
	sheet, path string
	add         func(*settingsTree, *table.Grid, string) bool
}{
	{baysSheet, baysPath, addRows[bayText, model.BaySettings]},
	{rinseSheet, rinseSheet, addRows[levelText, model.LevelSettings]},
	{cleanoutSheet, cleanoutSheet, addRows[levelText, model.LevelSettings]},
}

func (w *workbook) settings(found *table.Findings) (*settingsTree, bool) {
	y := newSettingsTree(w.at(model.DayTable), found)
	y.ofCells = true
	y.root = &yaml.Node{Kind: yaml.MappingNode}
	g, ok := w.sheet(string(model.DayTable), false, found)
	if g != nil {
		ok = y.addSettings(g)
	}
	for _, list := range listSheets {
		g, readable := w.sheet(list.sheet, false, found)
		if g != nil {
			readable = list.add(y, g, list.path)
		}
		ok = ok && readable
	}
	if ok && len(y.root.Content) == 0 {
		y.root = nil
		y.warn("is not there or says nothing; all settings are the defaults")
	}
	return y, ok
}

type settingText struct {
	Setting string `csv:"setting" need:"yes"`
	Value   string `csv:"value" need:"yes"`
	About   string `csv:"about"`
}

type bayText struct {
	Name        string `csv:"name" need:"yes"`
	Connections string `csv:"connections"`
	Plumbed     string `csv:"plumbed"`
	Hooked      string `csv:"hooked"`
	LastMix     string `csv:"last_mix"`
	Carriers    string `csv:"carriers"`
}

type levelText struct {
	Name string `csv:"name" need:"yes"`
	Min  string `csv:"min"`
	Gal  string `csv:"gal"`
}

// addSettings adds the rows of sheet day; one without a value leaves the
// default. It says whether the sheet has its columns.
func (y *settingsTree) addSettings(g *table.Grid) bool {
	t := table.Match[settingText](g, y.found)
	for i, text := range t.Rows {
		key, value := t.Cell(i, "setting"), t.Cell(i, "value")
		if sheet, _ := sheetOf(text.Setting); sheet != y.place.Sheet {
			y.failKey(t, i, text.Setting, "stands in sheet "+sheet+", a row for each, and not here")
			continue
		}
		switch {
		case value.Refused:
			y.bad[text.Setting] = true
		case text.Setting == "" && text.Value != "":
			y.found.Fail(t.Fault(i, "setting", "", "is blank, but the row has a value"))
		case text.Value == "":
			y.checkKey(t, i, text.Setting)
		default:
			y.addScalar(text.Setting, key, value)
		}
	}
	return t.Complete
}

// checkKey reports a misspelt setting even where its value is blank: what was
// meant to be set would else silently be the default.
func (y *settingsTree) checkKey(t *table.Table[settingText], row int, path string) {
	if path == "" {
		return
	}
	for _, known := range allKeyPaths {
		if known == path {
			return
		}
	}
	y.failKey(t, row, path, "unknown setting"+suggestKey(path))
}

func (y *settingsTree) failKey(t *table.Table[settingText], row int, path, want string) {
	fault := t.Fault(row, "setting", "", want)
	fault.Column = path
	y.found.Fail(fault)
}

// addScalar puts a value under a key path.
func (y *settingsTree) addScalar(path string, key, value table.Cell) {
	y.add(path, &yaml.Node{Line: key.Line, Column: key.Field}, scalarNode(value.Text, value))
}

// add puts a node under a key path, with its key where the key node says.
func (y *settingsTree) add(path string, key, value *yaml.Node) {
	above := y.root
	key.Kind, key.Value = yaml.ScalarNode, path
	if cut := strings.LastIndexByte(path, '.'); cut >= 0 {
		above, key.Value = y.mappingAt(path[:cut]), path[cut+1:]
	}
	above.Content = append(above.Content, key, value)
}

// mappingAt returns the mapping at a key path, made where it is not there.
func (y *settingsTree) mappingAt(path string) *yaml.Node {
	node := y.root
	for key := range strings.SplitSeq(path, ".") {
		below := child(node, key)
		if below == nil || below.Kind != yaml.MappingNode {
			below = &yaml.Node{Kind: yaml.MappingNode}
			node.Content = append(node.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, below)
		}
		node = below
	}
	return node
}

func scalarNode(text string, at table.Cell) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text, Line: at.Line, Column: at.Field}
}

// addRows makes a list under a key path of the rows of a sheet: T is a row as
// text, S the element. It says whether the sheet has its columns.
func addRows[T, S any](y *settingsTree, g *table.Grid, path string) bool {
	t := table.Match[T](g, y.found)
	list := &yaml.Node{Kind: yaml.SequenceNode, Line: g.Header.Line}
	y.add(path, &yaml.Node{Line: g.Header.Line}, list)
	for i := range t.Rows {
		element := &yaml.Node{Kind: yaml.MappingNode, Line: g.Rows[i].Line}
		for _, field := range reflect.VisibleFields(reflect.TypeFor[S]()) {
			key := snake(field.Name)
			at := t.Cell(i, key)
			switch {
			case at.Refused:
				y.bad[fmt.Sprintf("%s[%d].%s", path, i, key)] = true
			case at.Text != "":
				element.Content = append(element.Content,
					&yaml.Node{Kind: yaml.ScalarNode, Value: key, Line: at.Line, Column: at.Field}, cellNode(at, field.Type))
			}
		}
		list.Content = append(list.Content, element)
	}
	return t.Complete
}

// cellNode is a cell as a value, or as a list of names with semicolons between
// them.
func cellNode(at table.Cell, t reflect.Type) *yaml.Node {
	if t.Kind() != reflect.Slice {
		return scalarNode(at.Text, at)
	}
	list := &yaml.Node{Kind: yaml.SequenceNode, Line: at.Line, Column: at.Field}
	for name := range strings.SplitSeq(at.Text, ";") {
		if name = strings.TrimSpace(name); name != "" {
			list.Content = append(list.Content, scalarNode(name, at))
		}
	}
	return list
}
