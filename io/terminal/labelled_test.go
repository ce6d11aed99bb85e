package terminal

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLabelledKeepsItsWidth(t *testing.T) {
	var out strings.Builder
	many := strings.TrimSuffix(strings.Repeat("Heron, ", 20), ", ")
	require.NoError(t, Labelled(&out, "the day holds:", [][2]string{{"jobs", "3"}, {"sprayers", many}}, 60))
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	assert.Equal(t, []string{"the day holds:", "  jobs      3", "  sprayers  Heron, Heron, Heron, Heron, Heron, Heron, Heron,"}, lines[:3])
	for _, line := range lines[3:] {
		assert.LessOrEqual(t, len(line), 60)
		assert.True(t, strings.HasPrefix(line, strings.Repeat(" ", 12)+"Heron"), line)
	}
}
