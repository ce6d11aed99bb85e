package ical

import (
	"strings"
	"unicode/utf8"
)

// lines are content lines (RFC 5545, 3.1).
type lines struct{ out strings.Builder }

// maxOctets is the longest line, its end not counted.
const maxOctets = 75

// add writes a line, folded where it is too long. A fold never splits a
// character.
func (l *lines) add(name, value string) {
	line := name + ":" + value
	room := maxOctets
	for len(line) > room {
		cut := room
		for !utf8.RuneStart(line[cut]) {
			cut--
		}
		l.out.WriteString(line[:cut])
		l.out.WriteString("\r\n ")
		line = line[cut:]
		room = maxOctets - 1 // the blank that leads a folded line counts
	}
	l.out.WriteString(line)
	l.out.WriteString("\r\n")
}

// addText writes a line whose value is text (RFC 5545, 3.3.11).
func (l *lines) addText(name, text string) { l.add(name, escaper.Replace(valid(text))) }

var escaper = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`)

// valid drops what no text may hold: control characters and broken UTF-8.
func valid(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, "\uFFFD"))
}
