package planfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/crc32"

	"padturn/model"
)

// SumOf is a check sum of what a day's files say. A plan keeps that of the day it
// was made of, so that it can be told whether the files have changed since.
func SumOf(in *model.Input) string {
	text, err := json.Marshal(in)
	if err != nil {
		panic("planfile: a day has no text: " + err.Error()) // it is numbers and names
	}
	// A folder and a workbook read a list of nothing as none or as an empty one.
	text = bytes.ReplaceAll(text, []byte("[]"), []byte("null"))
	return fmt.Sprintf("%08x", crc32.ChecksumIEEE(text))
}
