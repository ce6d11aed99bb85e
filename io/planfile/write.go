package planfile

import (
	"padturn/io/whole"
)

// Write puts the files of a plan into a folder, as [whole.Files] does, and
// plan.json last: it then never comes before the files it belongs with. The
// files of an earlier plan that this one does not have are removed, so that
// none is left to mislead.
func Write(dir string, files map[string][]byte) error {
	all := map[string][]byte{ChangesFile: nil}
	for _, name := range FileNames() {
		all[name] = nil
	}
	for name, data := range files {
		all[name] = data
	}
	return whole.Files(dir, all, PlanFile)
}
