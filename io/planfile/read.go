package planfile

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"padturn/model"
)

// Read reads a plan from its folder, or from the file itself. It is strict: the
// whole file must be what the schema says. Its error names every place that is
// not, with line and column.
func Read(path string) (*Document, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, noPlan(path, err)
	}
	if info.IsDir() {
		path = filepath.Join(path, PlanFile)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, noPlan(path, err)
	}
	return Parse(path, data)
}

// noPlan says that there is none at a path, which it names once, and why.
func noPlan(path string, err error) error {
	if cause := new(fs.PathError); errors.As(err, &cause) {
		err = cause.Err
	}
	return fmt.Errorf("no plan at %s: %w", path, err)
}

// Parse reads the bytes of plan.json; the name is for the errors.
func Parse(name string, data []byte) (*Document, error) {
	s := source{name, data}
	if err := s.checkSyntax(); err != nil {
		return nil, err
	}
	if err := s.checkForm(); err != nil {
		return nil, err
	}
	if err := s.checkSchema(); err != nil {
		return nil, err
	}
	// Lists that plans of earlier versions do not have are empty, not missing.
	d := &Document{Deliveries: []Delivery{}, Holds: []Hold{}}
	if err := json.Unmarshal(data, d); err != nil {
		return nil, s.fault(s.offsetOf(err), err.Error())
	}
	for i := range d.Loads {
		if d.Loads[i].Run == nil {
			d.Loads[i].Run = []string{}
		}
	}
	for i := range d.Products {
		if d.Products[i].Containers == nil {
			d.Products[i].Containers = []Container{}
		}
	}
	return d, nil
}

// source is a plan file being read.
type source struct {
	name string
	data []byte
}

// fault is an error at a place of the file.
func (s source) fault(offset int64, what string) error {
	before := s.data[:min(max(offset, 0), int64(len(s.data)))]
	line := bytes.Count(before, []byte("\n")) + 1
	column := len(before) - bytes.LastIndexByte(before, '\n')
	return fmt.Errorf("%s:%d:%d: %s", s.name, line, column, what)
}

func (s source) offsetOf(err error) int64 {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return syntax.Offset - 1
	case errors.As(err, &kind):
		return kind.Offset
	}
	return 0
}

// checkSyntax refuses what is not one JSON value, and numbers that are not
// plain digits: an exponent could ask for more memory than there is.
func (s source) checkSyntax() error {
	if len(bytes.TrimSpace(s.data)) == 0 {
		return fmt.Errorf("%s is empty; expected a plan", s.name)
	}
	var whole json.RawMessage
	if err := json.Unmarshal(s.data, &whole); err != nil {
		return s.fault(s.offsetOf(err), "not JSON: "+err.Error())
	}
	dec := json.NewDecoder(bytes.NewReader(s.data))
	dec.UseNumber()
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return s.fault(dec.InputOffset(), "not JSON: "+err.Error())
		}
		if n, ok := token.(json.Number); ok && !isPlain(n.String()) {
			at := dec.InputOffset() - int64(len(n))
			return s.fault(at, fmt.Sprintf("%.40s is not a plain number with at most 9 decimals", n))
		}
	}
}

// isPlain allows what a [Number] can hold, and whole numbers up to 2^64 - 1.
func isPlain(n string) bool {
	_, err := model.ParseDecimal(n)
	return len(n) <= 21 && (err == nil || errors.Is(err, model.ErrTooLarge))
}

// checkForm tells a plan of another form from a plan with faults.
func (s source) checkForm() error {
	var form struct {
		Schema string `json:"schema"`
	}
	err := json.Unmarshal(s.data, &form)
	if err != nil || !strings.HasPrefix(form.Schema, "padturn.plan/") {
		return s.fault(0, fmt.Sprintf("not a plan of padturn: expected \"schema\": %q at its top", Schema))
	}
	if form.Schema != Schema {
		return s.fault(locate(s.data, []string{"schema"}), fmt.Sprintf(
			"the plan has the form %q; this padturn reads %q. Plan the day again with this version, or read it with the one that wrote it",
			form.Schema, Schema))
	}
	return nil
}

// checkSchema lists every place where the file is not what the schema says.
func (s source) checkSchema() error {
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(s.data))
	if err != nil {
		return s.fault(0, "not JSON: "+err.Error())
	}
	var invalid *jsonschema.ValidationError
	if err := compiledSchema().Validate(value); errors.As(err, &invalid) {
		return s.faults(leaves(invalid))
	} else if err != nil {
		return s.fault(0, err.Error())
	}
	return nil
}

// maxFaults is how many faults are worth listing: a file with more is another
// file altogether.
const maxFaults = 20

// faults lists the faults from the top of the file to its end. Finding a place
// takes a walk through the file, so it is done for the listed ones only.
func (s source) faults(list []*jsonschema.ValidationError) error {
	english := message.NewPrinter(language.English)
	slices.SortFunc(list, func(a, b *jsonschema.ValidationError) int {
		return cmp.Or(slices.CompareFunc(a.InstanceLocation, b.InstanceLocation, compareSteps),
			strings.Compare(a.ErrorKind.LocalizedString(english), b.ErrorKind.LocalizedString(english)))
	})
	listed := list[:min(len(list), maxFaults)]
	at := map[*jsonschema.ValidationError]int64{}
	for _, e := range listed {
		at[e] = locate(s.data, e.InstanceLocation)
	}
	slices.SortStableFunc(listed, func(a, b *jsonschema.ValidationError) int { return cmp.Compare(at[a], at[b]) })
	all := each(listed, func(e *jsonschema.ValidationError) error {
		what := e.ErrorKind.LocalizedString(english)
		if len(e.InstanceLocation) > 0 {
			what = strings.Join(e.InstanceLocation, "/") + ": " + what
		}
		return s.fault(at[e], what)
	})
	if more := len(list) - len(listed); more > 0 {
		all = append(all, fmt.Errorf("and %d more", more))
	}
	return errors.Join(all...)
}

// compareSteps orders the steps of a path: places in a list by number, names
// by letter.
func compareSteps(a, b string) int {
	i, errA := strconv.Atoi(a)
	j, errB := strconv.Atoi(b)
	if errA == nil && errB == nil {
		return cmp.Compare(i, j)
	}
	return strings.Compare(a, b)
}

// leaves returns the causes that have no further cause.
func leaves(e *jsonschema.ValidationError) []*jsonschema.ValidationError {
	if len(e.Causes) == 0 {
		return []*jsonschema.ValidationError{e}
	}
	var all []*jsonschema.ValidationError
	for _, cause := range e.Causes {
		all = append(all, leaves(cause)...)
	}
	return all
}
