package tomorrow

import (
	"bytes"
	"math/big"
	"slices"
	"strconv"

	"go.yaml.in/yaml/v3"

	"padturn/model"
)

const settingsFile = "day.yaml"

// settings has the next date, what hangs where, and the water that there will
// be. All else of it stays.
func (d *day) settings() (err error) {
	in := &d.in.Settings
	if in.Date, err = nextDate(in.Date); err != nil {
		return err
	}
	in.Pad.Bays = slices.Clone(in.Pad.Bays)
	for i := range d.s.Bays {
		d.bay(i, &in.Pad.Bays[i])
	}
	if in.Pad.Water != nil && d.s.Water != nil {
		water := *in.Pad.Water
		in.Pad.Water = &water
		d.water(&water)
	}
	return nil
}

// bay sets what hangs on a bay.
func (d *day) bay(i int, in *model.BaySettings) {
	b := &d.s.Bays[i]
	in.Hooked = d.s.HooksAtClose(i)
	for k, h := range b.On {
		if h.Left != nil && *h.Left == 0 && k >= len(in.Plumbed) {
			d.note("%s, connection %d: the container of %s is empty and counts as taken off", b.Name, k+1, h.Product)
		}
	}
	if b.LastMix != "" {
		in.LastMix = b.LastMix
	}
	if b.Rinsed != "" {
		d.note("%s was rinsed (%s) after %s; last_mix does not say so, and the next plan may rinse again", b.Name, b.Rinsed, b.LastMix)
	}
}

// water sets what is on hand at the next opening: what is there now and runs in
// by then.
func (d *day) water(in *model.WaterSettings) {
	seconds := d.s.Problem.Settings.Pad.Opens + nextDay - d.s.At
	level := new(big.Rat).Mul(in.RefillGpm.Rat(), big.NewRat(int64(max(seconds, 0)), 60))
	level.Add(level, d.s.Water)
	in.OnHandGal = cut(min(model.RoundRat(level), in.CapacityGal), 100)
	d.note("water: %s gal now, %s at the next opening if it refills until then", model.RoundRat(d.s.Water).Fixed(0), in.OnHandGal.Fixed(0))
}

// printSettings is day.yaml with what changes from day to day. All else of it
// stays, its comments too.
func printSettings(data []byte, in *model.Settings) ([]byte, error) {
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
	if in.Date != "" {
		set(top, "date", quoted(in.Date))
	}
	pad := child(top, "pad", yaml.MappingNode)
	printBays(child(pad, "bays", yaml.SequenceNode), in.Pad.Bays)
	if in.Pad.Water != nil {
		set(child(pad, "water", yaml.MappingNode), "on_hand_gal", plain(in.Pad.Water.OnHandGal.String()))
	}
	var out bytes.Buffer
	enc := yaml.NewEncoder(&out)
	enc.SetIndent(2)
	if err := enc.Encode(&document); err != nil {
		return nil, err
	}
	return out.Bytes(), enc.Close()
}

// printBays sets what hangs on the bays. Where the file names none there is the
// one that every pad has.
func printBays(list *yaml.Node, bays []model.BaySettings) {
	for i, b := range bays {
		if i >= len(list.Content) {
			bay := &yaml.Node{Kind: yaml.MappingNode}
			set(bay, "name", quoted(b.Name))
			set(bay, "connections", plain(strconv.Itoa(b.Connections)))
			list.Content = append(list.Content, bay)
		}
		bay := list.Content[i]
		hooked := &yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle}
		for _, product := range b.Hooked {
			hooked.Content = append(hooked.Content, quoted(product))
		}
		set(bay, "hooked", hooked)
		if b.LastMix != "" {
			set(bay, "last_mix", quoted(b.LastMix))
		}
	}
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
