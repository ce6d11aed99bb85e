package isoxml

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"regexp"
	"slices"
	"strconv"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// standard is what open descriptions say of the format; testdata/standard.json
// names them.
type standard struct {
	Source string
	DDI    map[string]struct{ Name, Unit, Resolution string }

	Elements map[string]struct {
		Children   []string
		Attributes map[string]attribute
	}
}

type attribute struct {
	Name         string
	Required     bool
	Integer      bool
	Pattern      string
	MaxLength    int      `json:"max_length"`
	MinInclusive *float64 `json:"min_inclusive"`
	MaxInclusive *float64 `json:"max_inclusive"`
	Values       []string
}

func readStandard(t testing.TB) standard {
	data, err := os.ReadFile("testdata/standard.json")
	require.NoError(t, err)
	var s standard
	require.NoError(t, json.Unmarshal(data, &s))
	require.NotEmpty(t, s.Source)
	return s
}

// check holds a file to the standard: known elements in their places, known
// attributes, required ones there, values of the right form, ids used once and
// references that lead to an element of the right kind.
func (s standard) check(t testing.TB, data []byte) {
	t.Helper()
	c := checking{standard: s, t: t, ids: map[string]string{}}
	dec := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		switch x := token.(type) {
		case xml.StartElement:
			c.element(x)
		case xml.EndElement:
			c.path = c.path[:len(c.path)-1]
		}
	}
	for _, r := range c.references {
		assert.Contains(t, c.ids, r, "a reference to nothing")
	}
	assert.Positive(t, c.seen)
}

type checking struct {
	standard
	t          testing.TB
	path       []string
	ids        map[string]string
	references []string
	seen       int
}

func (c *checking) element(e xml.StartElement) {
	name := e.Name.Local
	c.seen++
	known, ok := c.Elements[name]
	require.True(c.t, ok, "element %s", name)
	if len(c.path) == 0 {
		assert.Equal(c.t, "ISO11783_TaskData", name)
	} else {
		parent := c.path[len(c.path)-1]
		assert.Contains(c.t, c.Elements[parent].Children, name, "child of %s", parent)
	}
	c.path = append(c.path, name)
	values := map[string]string{}
	for _, a := range e.Attr {
		values[a.Name.Local] = a.Value
		form, ok := known.Attributes[a.Name.Local]
		if assert.True(c.t, ok, "%s/@%s", name, a.Name.Local) {
			c.value(name+"/@"+a.Name.Local, form, a.Value)
		}
	}
	for key, form := range known.Attributes {
		if form.Required {
			assert.Contains(c.t, values, key, "%s lacks %s", name, form.Name)
		}
	}
	if form := known.Attributes["A"]; form.Pattern != "" && regexp.MustCompile(`Id$`).MatchString(form.Name) {
		assert.NotContains(c.t, c.ids, values["A"], "an id used twice")
		c.ids[values["A"]] = name
	}
}

func (c *checking) value(where string, form attribute, value string) {
	if form.Pattern != "" {
		assert.Regexp(c.t, "^("+form.Pattern+")$", value, where)
	}
	if form.MaxLength > 0 {
		assert.LessOrEqual(c.t, utf8.RuneCountInString(value), form.MaxLength, where)
	}
	if len(form.Values) > 0 {
		assert.True(c.t, slices.Contains(form.Values, value), "%s: %s is none of %v", where, value, form.Values)
	}
	if form.Integer {
		_, err := strconv.ParseInt(value, 10, 64)
		assert.NoError(c.t, err, where)
	}
	if form.MinInclusive != nil {
		n, err := strconv.ParseFloat(value, 64)
		assert.NoError(c.t, err, where)
		assert.GreaterOrEqual(c.t, n, *form.MinInclusive, where)
		assert.LessOrEqual(c.t, n, *form.MaxInclusive, where)
	}
	if regexp.MustCompile(`IdRef$`).MatchString(form.Name) {
		c.references = append(c.references, value)
	}
}
