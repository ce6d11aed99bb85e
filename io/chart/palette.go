package chart

// Colours after Okabe and Ito, which the common forms of colour blindness keep
// apart, made lighter where text stands on them. The light of the fills differs
// too, for a grey print.
const (
	ink    = "#1A1A1A"
	faint  = "#5F5F5F" // text of less weight: 6:1 on white
	paper  = "#FFFFFF"
	rule   = "#C9C9C9"
	shade  = "#EFEFEF" // outside the hours
	blue   = "#00568A"
	deep   = "#0A6AA6" // white text on it: 5.7:1
	green  = "#CFEBDD"
	forest = "#00694C"
	sky    = "#BFE3F7"
	orange = "#FBE0A8"
	brick  = "#B84A00"
	rose   = "#EBCBDC"
	plum   = "#7A2F5B"
	straw  = "#FAF3B0"

	stockShade = "#E3EEF5"
)

// The looks of what a bay or a sprayer does.
var (
	lookFill       = look{fill: deep, edge: paper}
	lookSpray      = look{fill: green, edge: forest}
	lookWait       = look{fill: paper, hatch: hatchSlash, ink: brick, edge: brick}
	lookHeld       = look{fill: paper, hatch: hatchDots, ink: faint, edge: faint}
	lookPause      = look{fill: straw, hatch: hatchBars, ink: ink, edge: ink}
	lookCleanout   = look{fill: rose, hatch: hatchCross, ink: plum, edge: plum}
	lookRinse      = look{fill: sky, hatch: hatchLines, ink: blue, edge: blue}
	lookChangeover = look{fill: orange, hatch: hatchBack, ink: ink, edge: ink}
	lookHold       = look{fill: "#F3F3F3", hatch: hatchWide, ink: "#8A8A8A"}
	lookClosed     = look{fill: shade}
	lookLow        = look{fill: paper, hatch: hatchSlash, ink: brick}
)

var (
	strokeDrive   = stroke{color: ink, width: 2}
	strokeGrid    = stroke{color: rule, width: 0.6}
	strokeHour    = stroke{color: "#9A9A9A", width: 0.8}
	strokeFrame   = stroke{color: faint, width: 0.8}
	strokeMark    = stroke{color: ink, width: 1, dash: 3}
	strokeStock   = stroke{color: blue, width: 1.6}
	strokeReorder = stroke{color: brick, width: 1.2, dash: 4}
	strokeInside  = stroke{color: paper, width: 1.6}
)
