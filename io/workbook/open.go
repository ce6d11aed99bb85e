package workbook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/xuri/excelize/v2"

	"padturn/io/table"
)

// Limits of a workbook beyond those of its tables. A day's workbook is a few
// hundred kilobytes unpacked.
const (
	maxUnpackedBytes = 64 << 20
	maxCells         = 2_000_000 // of one sheet, those that only have a format counted in
)

// magicOLE begins the container that password protection and the old .xls use.
var magicOLE = []byte{0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1}

// load reads the bytes of a file, and refuses what is no file or too large.
func load(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("is not a plain file")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, table.MaxFileBytes+1))
}

// open opens the bytes of a workbook. Its error is in words that can follow the
// file's name.
func open(data []byte) (*excelize.File, error) {
	switch {
	case len(data) > table.MaxFileBytes:
		return nil, fmt.Errorf("is larger than %d MiB; a day's workbook is far smaller", table.MaxFileBytes>>20)
	case bytes.HasPrefix(data, magicOLE):
		return nil, errors.New("is protected with a password, or is an old .xls; save it as .xlsx without a password")
	case !bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return nil, errors.New("is no workbook (.xlsx)")
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue: true,
		// Equal limits keep every part in memory; the library else puts large
		// ones into temporary files.
		UnzipSizeLimit: maxUnpackedBytes, UnzipXMLSizeLimit: maxUnpackedBytes,
	})
	switch {
	case err != nil && strings.HasPrefix(err.Error(), "unzip size exceeds"):
		return nil, fmt.Errorf("unpacks to more than %d MiB; a day's workbook is far smaller", maxUnpackedBytes>>20)
	case errors.Is(err, io.EOF), err == nil && len(f.GetSheetList()) == 0:
		return nil, errors.New("is no workbook (.xlsx): it has no sheets")
	case err != nil:
		return nil, fmt.Errorf("is no workbook (.xlsx), or a damaged one: %w", err)
	}
	return f, checkExtents(f)
}
