package whole

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func names(t *testing.T, dir string) []string {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	list := []string{}
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}

func TestNewFolder(t *testing.T) {
	files := map[string][]byte{"a": []byte("1"), "b": []byte("2")}
	fine := func(string) error { return nil }
	top := t.TempDir()
	dir := filepath.Join(top, "day")

	refused := errors.New("no day")
	err := NewFolder(dir, files, func(temp string) error {
		assert.Equal(t, []string{"a", "b"}, names(t, temp))
		return refused
	})
	require.ErrorIs(t, err, refused)
	assert.Empty(t, names(t, top), "nothing stays")

	require.NoError(t, NewFolder(dir, files, fine))
	assert.Equal(t, []string{"a", "b"}, names(t, dir))
	require.ErrorContains(t, NewFolder(dir, files, fine), "is there already")
	require.Error(t, NewFolder(filepath.Join(top, "none", "day"), files, fine))
}

func TestFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "close")
	require.NoError(t, Files(dir, map[string][]byte{"a": []byte("1"), "b": []byte("2")}))
	require.NoError(t, Files(dir, map[string][]byte{"a": []byte("3")}))
	assert.Equal(t, []string{"a", "b"}, names(t, dir))
	data, err := os.ReadFile(filepath.Join(dir, "a"))
	require.NoError(t, err)
	assert.Equal(t, "3", string(data))

	require.NoError(t, os.Mkdir(filepath.Join(dir, "c"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "c", "x"), nil, 0o644))
	require.Error(t, Files(dir, map[string][]byte{"c": nil}), "a folder is in the way")
	assert.Equal(t, []string{"a", "b", "c"}, names(t, dir), "no other name is left over")
}
