package table_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/io/table"
)

func TestSafeKeepsFormulasFromRunning(t *testing.T) {
	for _, row := range []struct{ name, in, want string }{
		{"formula", "=1+1", "'=1+1"},
		{"plus", "+1", "'+1"},
		{"minus", "-dash", "'-dash"},
		{"at", "@group", "'@group"},
		{"tab", "\tx", "'\tx"},
		{"return", "\rx", "'\rx"},
		{"inside", "a=b", "a=b"},
		{"blank", "", ""},
		{"other alphabet", "農", "農"},
	} {
		t.Run(row.name, func(t *testing.T) { assert.Equal(t, row.want, table.Safe(row.in)) })
	}
}

func TestCSVQuotesOnlyWhereNeeded(t *testing.T) {
	assert.Equal(t, "a,b\n1,\"x, \"\"y\"\"\"\n,z\n", string(table.CSV("a,b", [][]string{{"1", `x, "y"`}, {"", "z"}})))
	assert.Equal(t, "a,b\n", string(table.CSV("a,b", nil)))
}
