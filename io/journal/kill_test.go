//go:build unix

package journal

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests of this file run themselves a second time as a writer, told by
// these variables.
const (
	writeTo  = "JOURNAL_TEST_WRITE_TO"
	fileSize = "JOURNAL_TEST_FILE_SIZE" // bytes that a file may have at most
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(writeTo); dir != "" {
		os.Exit(writeUntilStopped(dir))
	}
	os.Exit(m.Run())
}

// writeUntilStopped reports on and on, and prints the number of each report that
// was accepted.
func writeUntilStopped(dir string) int {
	if text := os.Getenv(fileSize); text != "" {
		size, err := strconv.ParseUint(text, 10, 64)
		if err != nil {
			return 3
		}
		signal.Ignore(syscall.SIGXFSZ)
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: size, Max: size}); err != nil {
			return 3
		}
	}
	for {
		j, err := put(dir, someNotes()[5])
		if err != nil {
			fmt.Println(err)
			return 1
		}
		fmt.Println(len(j.Entries))
	}
}

func writer(dir string, env ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), append(env, writeTo+"="+dir)...)
	return cmd
}

func TestKillLosesNothingThatWasAccepted(t *testing.T) {
	dir := t.TempDir()
	accepted := 0
	for round := range 12 {
		cmd := writer(dir)
		out, err := cmd.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		timer := time.AfterFunc(time.Duration(20+7*round)*time.Millisecond, func() { _ = cmd.Process.Kill() })
		for lines := bufio.NewScanner(out); lines.Scan(); {
			n, err := strconv.Atoi(lines.Text())
			require.NoError(t, err, lines.Text())
			accepted = n
		}
		timer.Stop()
		_ = cmd.Wait() // it was killed
		j, err := Read(in(dir))
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(j.Entries), accepted)
	}
	assert.Positive(t, accepted)
}

// TestADiskThatRunsFull has the operating system refuse to make the file any
// larger, as a full disk does.
func TestADiskThatRunsFull(t *testing.T) {
	dir := t.TempDir()
	out, err := writer(dir, fileSize+"=1000").CombinedOutput()
	require.Error(t, err)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	require.Contains(t, strings.Join(lines, " "), "file too large")
	j, err := Read(in(dir))
	require.NoError(t, err)
	assert.Positive(t, len(j.Entries))
	assert.Contains(t, lines, strconv.Itoa(len(j.Entries)), "the last one accepted is the last one there")
	assert.NotContains(t, lines, strconv.Itoa(len(j.Entries)+1))
	assert.Empty(t, j.Torn)
}
