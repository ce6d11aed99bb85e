package dayfiles

import (
	"errors"
	"io/fs"
	"os"
	"strings"

	"padturn/io/table"
	"padturn/model"
)

// Day is what a day folder says.
type Day struct {
	Input   model.Input
	Problem *model.Problem
	// Warnings do not stand in the way of planning, but should be shown.
	Warnings []table.Fault
}

// Problems is the error of a day folder that cannot be planned: all that is
// wrong with it, in the order of files, lines and fields.
type Problems struct {
	Errors   []table.Fault
	Warnings []table.Fault // not errors, but often what explains one
}

// Error lists the errors, one a line.
func (p *Problems) Error() string {
	lines := make([]string, len(p.Errors))
	for i, f := range p.Errors {
		lines[i] = f.String()
	}
	return strings.Join(lines, "\n")
}

// Read reads the day folder dir. Its error is always [*Problems].
func Read(dir string) (*Day, error) {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, folderProblem(dir, "there is no such folder")
	case err != nil:
		return nil, folderProblem(dir, "the folder cannot be read: "+cause(err))
	case !info.IsDir():
		return nil, folderProblem(dir, "is a file; a day is a folder of files, or a workbook (.xlsx)")
	}
	return ReadFS(os.DirFS(dir), dir)
}

// ReadFS reads the day folder that is the root of fsys; dir is what the folder
// is called in messages. Its error is always [*Problems].
func ReadFS(fsys fs.FS, dir string) (*Day, error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, folderProblem(dir, "the folder cannot be read: "+cause(err))
	}
	from := &folder{fsys: fsys}
	for _, e := range entries {
		from.present = append(from.present, e.Name())
	}
	return readDay(from, table.Findings{})
}

func folderProblem(dir, want string) error {
	return &Problems{Errors: []table.Fault{{File: dir, Want: want}}}
}

// cause is an error without the path, which the message names already.
func cause(err error) string {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}
