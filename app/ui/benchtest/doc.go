// Package benchtest drives the whole window from outside, as a person does, for tests: it
// opens a bench in the toolkit's test driver, drops files on it, moves the pointer over the
// sheet, types, chooses menu entries by their words and answers questions. What came of it
// a test reads off the window, or asks the session. Only tests import it.
//
// A Bench fails its test where what it is to work is not there, so a test need not check
// each step.
package benchtest
