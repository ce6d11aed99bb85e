package audit

import "testing"

// FuzzAudit feeds any bytes as one of the files: a checker of files that
// others wrote must not fall over.
func FuzzAudit(f *testing.F) {
	for name, content := range exampleFiles {
		f.Add(name, []byte(content))
	}
	header := columns["loads.csv"] + "\n"
	for _, nasty := range []string{
		"", "\xef\xbb\xbf", "\"", header, header + ",,,,,,,,,,,,,,,,,\n",
		header + "north,1,S1-1,S1,burndown,,0,0,00:00:00,00:00:00,23:59:59+9,00:00:00,0,0,,,0,00:00:00\n",
		header + "north,1,S1-1,S1,burndown,J1=999999999999,999999999999,0,00:00:00,00:00:00,00:00:00,00:00:00,0,0,,,0,00:00:00\n",
		header + "north,1,S1-1,S1,blight,J1=0;J1=0;J3=0,-1,-1,23:00:00+9,06:00:00,06:00:00,06:00:00,-0,-0,triple rinse,wash,0,00:00:00\n",
	} {
		f.Add("loads.csv", []byte(nasty))
	}
	f.Add("connections.csv", []byte(columns["connections.csv"]+"\nnorth,1000000,06:00:00,,,S1-1\nnorth,1,06:10:00,,AMS,S1-1\nnorth,1,06:10:00,x,x,S1-1\n"))
	f.Add("cost.csv", []byte(columns["cost.csv"]+"\ntotal,1e999999999,0x1p-2\nwait,,99999999999999999999\n"))
	f.Add("plan.json", []byte(`{"loads":[null],"totals":{"cost":{"dollars":{}}}}`))
	f.Fuzz(func(t *testing.T, name string, content []byte) {
		files := examplePlan()
		files[name] = content
		Check(exampleDay(), files)
	})
}
