package planfile

import (
	"bytes"
	_ "embed"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// schemaJSON is the JSON Schema (draft 2020-12) of plan.json.
//
//go:embed plan.schema.json
var schemaJSON []byte

// compiledSchema is the schema ready for use. It is part of the program, so an
// error in it is a bug that every test would meet.
var compiledSchema = sync.OnceValue(func() *jsonschema.Schema {
	const id = "urn:padturn:plan:1"
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schemaJSON))
	if err != nil {
		panic("planfile: plan.schema.json: " + err.Error())
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(id, doc); err != nil {
		panic("planfile: plan.schema.json: " + err.Error())
	}
	return c.MustCompile(id)
})
