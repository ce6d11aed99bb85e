package terminal

import (
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"padturn/io/planfile"
)

// Labelled prints a title and labels below one another, each a word and its text,
// the texts in a column of their own. Width and error are as for [Summary].
func Labelled(w io.Writer, title string, labels [][2]string, width int) error {
	p := newPage(&planfile.Document{}, width)
	p.paragraph(title)
	longest := 0
	for _, l := range labels {
		longest = max(longest, text.StringWidth(l[0]))
	}
	for _, l := range labels {
		p.item("  "+l[0]+strings.Repeat(" ", longest+2-text.StringWidth(l[0])), l[1])
	}
	return p.writeTo(w)
}
