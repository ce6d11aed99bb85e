package planfile

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWriteReplacesAnEarlierPlan(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "plan")
	require.NoError(t, Write(dir, map[string][]byte{
		PlanFile: []byte("old"), LoadsFile: []byte("old"), WaterFile: []byte("old"), ChangesFile: []byte("old"),
	}))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("mine"), 0o600))
	require.NoError(t, Write(dir, map[string][]byte{PlanFile: []byte("new"), LoadsFile: {}}))

	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Equal(t, []string{LoadsFile, "notes.txt", PlanFile}, each(entries, func(e os.DirEntry) string { return e.Name() }),
		"old plan files are gone, the dispatcher's own stay, nothing else is left")
	data, err := os.ReadFile(filepath.Join(dir, PlanFile))
	require.NoError(t, err)
	assert.Equal(t, "new", string(data))
}
