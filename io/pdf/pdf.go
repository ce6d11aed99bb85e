package pdf

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"codeberg.org/go-pdf/fpdf"

	"padturn/io/handout"
)

// Paper is a size of paper.
type Paper string

// The papers that can be printed on.
const (
	Letter Paper = "letter"
	A4     Paper = "a4"
)

// Papers lists the papers.
func Papers() []Paper { return []Paper{Letter, A4} }

// size returns the paper's width and height in mm.
func (p Paper) size() (w, h float64, err error) {
	switch p {
	case Letter:
		return 215.9, 279.4, nil
	case A4:
		return 210, 297, nil
	}
	return 0, 0, fmt.Errorf("there is no paper %q; expected %s or %s", p, Letter, A4)
}

// Print returns the PDF of a handout, and the characters of its text that the
// font does not have, for which it shows question marks.
func Print(h *handout.Handout, paper Paper) (data []byte, missing []rune, err error) {
	// Every page says how many there are, so the pages are laid out twice.
	first, err := layOut(h, paper, 0)
	if err != nil {
		return nil, nil, err
	}
	second, err := layOut(h, paper, first.pdf.PageNo())
	if err != nil {
		return nil, nil, err
	}
	data, err = second.bytes()
	return data, second.letters.missing(), err
}

// layOut puts everything on pages; total is how many of them there will be.
func layOut(h *handout.Handout, paper Paper, total int) (*book, error) {
	width, height, err := paper.size()
	if err != nil {
		return nil, err
	}
	letters, err := newLetters(dejavusanscondensed.TTF, dejavusanscondensedbold.TTF)
	if err != nil {
		return nil, err
	}
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: width, Ht: height}})
	f.SetAutoPageBreak(false, 0)
	f.SetCellMargin(0)
	f.SetCatalogSort(true)
	f.SetCreationDate(dated(h.Date))
	f.SetModificationDate(dated(h.Date))
	f.SetTitle(strings.TrimSuffix("Sheets for the crew, "+h.Date, ", "), true)
	f.SetCreator("padturn", true)
	f.AddUTF8FontFromBytes(family, "", dejavusanscondensed.TTF)
	f.AddUTF8FontFromBytes(family, "B", dejavusanscondensedbold.TTF)
	b := &book{pdf: f, day: h, letters: letters, total: total, width: width, height: height, scale: 1}
	b.orders()
	b.sheets()
	b.staging()
	b.stocks()
	b.notes()
	return b, f.Error()
}

// dated is the plan's date: a file that tells when it was made would differ
// from run to run.
func dated(day string) time.Time {
	at, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return at
}

// bytes closes the file. The library panics on text that it cannot write;
// that is an error here, so that nobody loses the other outputs to it.
func (b *book) bytes() (data []byte, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the PDF cannot be written: %v", r)
		}
	}()
	var out bytes.Buffer
	if err := b.pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("the PDF cannot be written: %w", err)
	}
	return out.Bytes(), nil
}
