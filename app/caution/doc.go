// Package caution says everything that speaks against a figure. A caution has a
// code; its grade, its words and what it affects all come from one table by
// that code, so that the window, the headless commands and every file say the same,
// and no file can soften what it says.
//
// There are two grades. A stop means: do not walk on this figure. A note means: know
// this. A stop travels with the figure wherever it is shown or written; a note is
// said once, large, where it belongs, for a mark that stands on every line is soon
// read by nobody.
package caution
