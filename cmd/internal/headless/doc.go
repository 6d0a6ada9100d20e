// Package headless runs the program's commands without a window: readings,
// calibrations, conversions and exports for scripts and for people at a
// terminal. It joins the domain to text, opens the files that are named, computes nothing
// itself and imports no window library.
//
// Single results are a readable table or, with --json, one JSON object whose
// keys carry their units; the standard deviation of a figure is its key with
// _sigma. Batch commands read rows from the standard input: a line in gives a
// line out, in order, without a header. Values in are separated by blanks or
// tabs, values out by one tab. A row that fails gives "error: …" in its place.
//
// Numbers are written in full: the shortest decimal that reads back as the
// same float64, never with an exponent; sizes below 1e-15 are written 0.
// Numbers read are plain decimals, with an exponent if need be; NaN, infinities
// and hexadecimal are refused.
//
// Exit codes: 0 done, 1 something failed (a row of a batch, a file, a date
// outside the magnetic model), 2 wrong usage (an unknown command, flag or grid,
// or a flag's value in the wrong form). Results go to the standard output,
// cautions and errors to the standard error, each caution once: "stop: " or
// "caution: " and a sentence.
package headless
