package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mayImport states the one-way rule of the house: model sees only itself,
// planner and io see model, and only cmd sees everything.
var mayImport = map[string][]string{
	"model":   {"model"},
	"planner": {"planner", "model"},
	"io":      {"io", "model"},
	"cmd":     {"cmd", "io", "planner", "model"},
}

// source is a Go file of the module that is no test.
type source struct {
	path string // from the top folder, with slashes
	file *ast.File
}

// sources parses the files here, and does not ask a go command for them, so
// that go test sees them being read and does not answer from its cache.
func sources(t *testing.T) []source {
	const top = "../.."
	var all []source
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		rel, err := filepath.Rel(top, path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly|parser.ParseComments)
		all = append(all, source{filepath.ToSlash(rel), file})
		return err
	})
	require.NoError(t, err)
	require.NotEmpty(t, all)
	return all
}

func TestImportsPointOneWay(t *testing.T) {
	const module = "padturn/"
	for _, s := range sources(t) {
		room, inside, _ := strings.Cut(s.path, "/")
		if room == "io" && !strings.Contains(inside, "/") {
			t.Errorf("%s: io is a folder of packages, not a package", s.path)
		}
		for _, spec := range s.file.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			ours, ok := strings.CutPrefix(name, module)
			if !ok {
				continue
			}
			target, _, _ := strings.Cut(ours, "/")
			if !slices.Contains(mayImport[room], target) {
				t.Errorf("%s imports %s; %s may import only %v", s.path, name, room, mayImport[room])
			}
		}
	}
}

// TestCheckerIsIndependent keeps the evaluator out of the checker, and both
// out of what only the command line needs.
func TestCheckerIsIndependent(t *testing.T) {
	for _, s := range sources(t) {
		if !strings.HasPrefix(s.path, "io/audit/") {
			continue
		}
		for _, spec := range s.file.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			if strings.HasPrefix(name, "padturn/") && name != "padturn/model" {
				t.Errorf("%s imports %s; the checker shares nothing but the words of model", s.path, name)
			}
		}
	}
}

// TestViperStaysInOnePlace keeps a library that is easily misread to the two
// files that know how it goes wrong.
func TestViperStaysInOnePlace(t *testing.T) {
	var users []string
	for _, s := range sources(t) {
		for _, spec := range s.file.Imports {
			if spec.Path.Value == `"github.com/spf13/viper"` {
				users = append(users, s.path)
			}
		}
	}
	assert.Equal(t, []string{"cmd/padturn/settings.go", "io/dayfiles/settings.go"}, users)
}

// TestMapIsTrue holds the map in DEVELOPERS.md to the packages there are: each in
// one row, which names all that it imports of ours.
func TestMapIsTrue(t *testing.T) {
	page, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	rows, allowed := map[string]int{}, map[string][]string{}
	for line := range strings.Lines(string(page)) {
		cells := strings.Split(line, "|")
		if len(cells) != 5 {
			continue
		}
		for _, room := range quoted.FindAllStringSubmatch(cells[1], -1) {
			rows[room[1]]++
			for _, name := range quoted.FindAllStringSubmatch(cells[3], -1) {
				allowed[room[1]] = append(allowed[room[1]], name[1])
			}
		}
	}
	for _, s := range sources(t) {
		dir := filepath.ToSlash(filepath.Dir(s.path))
		assert.Equal(t, 1, rows[dir], "rows of the map for %s", dir)
		for _, spec := range s.file.Imports {
			name, ours := strings.CutPrefix(strings.Trim(spec.Path.Value, `"`), "padturn/")
			if ours && dir != "cmd/padturn" {
				assert.Contains(t, allowed[dir], name, "the map's row of %s, for %s", dir, s.path)
			}
		}
	}
}

// quoted is a name as Markdown sets it.
var quoted = regexp.MustCompile("`([^`]+)`")

// TestPackagesHaveComments asks every package for the sentence that says what
// is in it.
func TestPackagesHaveComments(t *testing.T) {
	comments := map[string]int{}
	for _, s := range sources(t) {
		dir := filepath.Dir(s.path)
		if _, seen := comments[dir]; !seen {
			comments[dir] = 0
		}
		if s.file.Doc != nil {
			comments[dir]++
		}
	}
	for dir, n := range comments {
		assert.Equal(t, 1, n, "package comments in %s", dir)
	}
}
