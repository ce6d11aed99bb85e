package dayfiles_test

import (
	"padturn/io/dayfiles"
	"padturn/model"
)

// printDay writes an input back as the files of a day folder.
func printDay(in model.Input) files { return dayfiles.Files(in) }
