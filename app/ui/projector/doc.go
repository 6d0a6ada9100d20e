// Package projector is the window for the group: the sheet and, beside it, a board with
// the dial and few figures, large enough for the last row. It follows a lesson and shows
// nothing of the bench: no menu, no ledger, no foot line, and no figure that the lesson
// hides. It changes neither the plan nor what is selected.
//
// The window may stand on a second screen, while the coach works at the bench on the
// first, or it covers the bench. Apart says which: only on another screen may the bench
// show what is hidden from the group.
//
// # Sizes
//
// All sizes follow from the height of the window. Whatever has a figure in it is at
// least a twenty-fifth of it high, the figure to set a twelfth, measured at the height of
// the figures themselves. The figures on the dial's own ring grow with the dial.
package projector
