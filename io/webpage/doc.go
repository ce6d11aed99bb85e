// Package webpage shows a handout as one HTML page: the load orders, a sheet
// for every load, staging, stock charts and what holds for the whole day. It
// reads on a phone held in a glove, on a screen at the wall, and prints one
// load to a page.
//
// The page is whole in itself: no script, no network, no picture beside it. It
// says what the PDF says, from the same [handout.Handout], and works out
// nothing but where things go.
package webpage
