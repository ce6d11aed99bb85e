package table

import (
	"bytes"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// notCSV says why bytes cannot be a text table, or nothing.
func notCSV(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}), bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return "is UTF-16; save it as CSV in UTF-8"
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return "is a workbook or an archive; save the sheet as CSV in UTF-8"
	case bytes.IndexByte(data[:min(len(data), 1024)], 0) >= 0:
		return "holds NUL bytes, so it is UTF-16 or no text at all; save it as CSV in UTF-8"
	case !bytes.ContainsRune(data, '\n') && bytes.ContainsRune(data, '\r'):
		return "ends its lines with a lone CR; save it with LF or CRLF line ends"
	}
	return ""
}

// decodeText cuts the byte-order mark and turns Windows-1252, which older
// spreadsheets write, into UTF-8; it says whether it had to. Bytes that are no
// UTF-8 are always some Windows-1252, if not always the right one.
func decodeText(data []byte) (text []byte, fromWindows bool) {
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if utf8.Valid(data) {
		return data, false
	}
	decoded, err := charmap.Windows1252.NewDecoder().Bytes(data)
	if err != nil {
		// A single-byte decoder has an answer for every byte.
		return data, true
	}
	return decoded, true
}

// sniffSeparator returns which of comma, semicolon and tab separates the
// header line: the most frequent one outside quotes, the comma at ties.
func sniffSeparator(text []byte) rune {
	text = bytes.TrimLeft(text, "\r\n")
	var commas, semicolons, tabs int
	quoted := false
	for _, b := range text {
		if b == '"' {
			quoted = !quoted
		}
		if quoted {
			continue
		}
		switch b {
		case ',':
			commas++
		case ';':
			semicolons++
		case '\t':
			tabs++
		}
		if b == '\n' {
			break
		}
	}
	switch {
	case tabs > commas && tabs > semicolons:
		return '\t'
	case semicolons > commas:
		return ';'
	}
	return ','
}
