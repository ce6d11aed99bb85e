// Package pdf prints a handout as a PDF for a clipboard: the load order of
// every bay, a sheet for every load, what to bring and connect hour by hour,
// the stock as small charts, and what holds for the whole day. It is made for
// a black-and-white printer, gloves and arm's length: no meaning by colour,
// boxes that a thumb can hit, the plan's date and revision on every page.
//
// All it prints comes from [handout.Handout]; it works out nothing but where
// things go. No text is lost by the width of a page: amounts wrap, names shrink
// and then lose their middle, tables go on with their titles on the next page.
// The same handout gives the same bytes.
package pdf
