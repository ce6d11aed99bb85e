package planfile

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
)

// Render returns the bytes of every file of the plan, by file name. The same
// document gives the same bytes.
func Render(d *Document) (map[string][]byte, error) {
	plan, err := d.planJSON()
	if err != nil {
		return nil, fmt.Errorf("%s cannot be rendered: %w", PlanFile, err)
	}
	return map[string][]byte{
		PlanFile:        plan,
		LoadsFile:       d.loadsCSV(),
		AmountsFile:     d.amountsCSV(),
		ConnectionsFile: d.connectionsCSV(),
		StockFile:       d.stockCSV(),
		WaterFile:       d.waterCSV(),
		TurnsFile:       d.turnsCSV(),
		UnsprayedFile:   d.unsprayedCSV(),
		CostFile:        d.costCSV(),
	}, nil
}

// planJSON keeps <, > and & as they are: the file is for people too.
func (d *Document) planJSON() ([]byte, error) {
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(d); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// Revision tells this plan from any other, however little they differ: the
// first eight hexadecimal digits of the SHA-256 of its plan.json. It stands on
// every sheet, so that one of an earlier plan is seen to be old.
func (d *Document) Revision() (string, error) {
	data, err := d.planJSON()
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:4]), nil
}
