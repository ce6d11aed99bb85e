package whole

import (
	"errors"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

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
