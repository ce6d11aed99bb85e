package tomorrow

import (
	"bytes"
	"math/big"
	"strconv"

	"go.yaml.in/yaml/v3"

	"padturn/model"
)

// settings is day.yaml with the next date, what hangs where, and the water that
// there will be. All else of it stays, its comments too.
func (f *folder) settings(data []byte) ([]byte, error) {
	var document yaml.Node
	if err := yaml.Unmarshal(data, &document); err != nil {
		return nil, err
	}
	if document.Kind == 0 { // blank, or nothing but comments
		document = yaml.Node{Kind: yaml.DocumentNode, Content: []*yaml.Node{{Kind: yaml.MappingNode}}, FootComment: document.HeadComment}
	}
	top := document.Content[0]
	if top.Kind != yaml.MappingNode {
		top = &yaml.Node{Kind: yaml.MappingNode}
		document.Content[0] = top
	}
	date, err := nextDate(f.s.Day.Settings.Date)
	if err != nil {
		return nil, err
	}
	if date != "" {
		set(top, "date", quoted(date))
	}
	pad := child(top, "pad", yaml.MappingNode)
	f.bays(child(pad, "bays", yaml.SequenceNode))
	f.water(pad)
	var out bytes.Buffer
	enc := yaml.NewEncoder(&out)
	enc.SetIndent(2)
	if err := enc.Encode(&document); err != nil {
		return nil, err
	}
	return out.Bytes(), enc.Close()
}

// bays sets what hangs on the bays. Where the file names none there is the one
// that every pad has.
func (f *folder) bays(list *yaml.Node) {
	for i, b := range f.s.Bays {
		if i >= len(list.Content) {
			bay := &yaml.Node{Kind: yaml.MappingNode}
			set(bay, "name", quoted(b.Name))
			set(bay, "connections", plain(strconv.Itoa(len(b.On))))
			list.Content = append(list.Content, bay)
		}
		bay := list.Content[i]
		hooked := &yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle}
		for _, product := range f.s.HooksAtClose(i) {
			hooked.Content = append(hooked.Content, quoted(product))
		}
		for k, h := range b.On {
			if h.Left != nil && *h.Left == 0 && k >= len(f.s.Day.Settings.Pad.Bays[i].Plumbed) {
				f.note("%s, connection %d: the container of %s is empty and counts as taken off", b.Name, k+1, h.Product)
			}
		}
		set(bay, "hooked", hooked)
		if b.LastMix != "" {
			set(bay, "last_mix", quoted(b.LastMix))
		}
		if b.Rinsed != "" {
			f.note("%s was rinsed (%s) after %s; last_mix does not say so, and the next plan may rinse again", b.Name, b.Rinsed, b.LastMix)
		}
	}
}

// water sets what is on hand at the next opening: what is there now and runs in
// by then.
func (f *folder) water(pad *yaml.Node) {
	w := f.s.Day.Settings.Pad.Water
	if w == nil || f.s.Water == nil {
		return
	}
	hours := f.s.Problem.Settings.Pad.Opens + nextDay - f.s.At
	level := new(big.Rat).Mul(w.RefillGpm.Rat(), big.NewRat(int64(max(hours, 0)), 60))
	level.Add(level, f.s.Water)
	gal := min(model.RoundRat(level), w.CapacityGal)
	set(child(pad, "water", yaml.MappingNode), "on_hand_gal", plain(gal.Fixed(2)))
	f.note("water: %s gal now, %s at the next opening if it refills until then", model.RoundRat(f.s.Water).Fixed(0), gal.Fixed(0))
}

// child returns the value of a key, which it adds where it is not there, or says
// nothing.
func child(node *yaml.Node, key string, kind yaml.Kind) *yaml.Node {
	for i := 0; i+1 < len(node.Content); i += 2 {
		if node.Content[i].Value == key {
			value := node.Content[i+1]
			if value.Kind == yaml.AliasNode {
				value = value.Alias
			}
			if value.Kind != kind {
				*value = yaml.Node{Kind: kind}
			}
			return value
		}
	}
	value := &yaml.Node{Kind: kind}
	node.Content = append(node.Content, plain(key), value)
	return value
}

// set gives a key a value, in place of the one it has.
func set(node *yaml.Node, key string, value *yaml.Node) {
	for i := 0; i+1 < len(node.Content); i += 2 {
		if node.Content[i].Value == key {
			value.LineComment = node.Content[i+1].LineComment
			node.Content[i+1] = value
			return
		}
	}
	node.Content = append(node.Content, plain(key), value)
}

func plain(text string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: text} }

func quoted(text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Style: yaml.DoubleQuotedStyle, Tag: "!!str", Value: text}
}
