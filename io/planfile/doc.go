// Package planfile is the written form of a plan: the document that plan.json
// holds, the CSV files beside it, and the JSON Schema that describes the
// document. It turns a problem and its result into a [Document], renders a
// document into the bytes of every file, writes those files so that none is
// ever half there, and reads plan.json back, strictly.
//
// It decides nothing and checks no rule of the pad: what the plan says is what
// the files say. Nothing that depends on the clock, the machine or the order
// of a map reaches a file, so the same result gives the same bytes.
//
// # Numbers and times
//
// Numbers in plan.json are exact, with up to nine decimals and the unit in the
// key; the CSV files round acres, gallons and amounts to four decimals and cost
// to six. Times are HH:MM:SS, with +1 after midnight.
package planfile
