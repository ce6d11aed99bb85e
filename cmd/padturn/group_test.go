package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestHelpListsEveryCommandOnce: a command without a group stands under Also, and
// one of a group that help does not print would stand nowhere.
func TestHelpListsEveryCommandOnce(t *testing.T) {
	help := padturn("--help").stdout
	_, list, _ := strings.Cut(help, "Before the day:")
	for _, command := range newRoot().Commands() {
		want := 1
		if command.Hidden {
			want = 0
		}
		assert.Equal(t, want, strings.Count(list, "\n  "+command.Name()+" "), command.Name())
	}
}
