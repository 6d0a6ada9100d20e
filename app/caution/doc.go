// Package caution says everything that speaks against a figure. A caution has a
// code; its grade, its words and what it affects all come from one table by
// that code, so that the window, the headless commands and every file say the same,
// and no file can soften what it says.
//
// There are two grades. A stop means: do not walk on this figure. A note means: know
// this. A stop travels with the figure wherever it is shown or written; a note is
// said once, large, where it belongs, for a mark that stands on every line is soon
// read by nobody.
//
// A new caution is a code in codes.go, a row in table.go (grade, what it affects, short
// words, sentence), and whatever raises it, for a reading app/leg/cautions.go. Screen,
// GPX and headless show it from there on; the tests hold that every code has its words.
package caution
