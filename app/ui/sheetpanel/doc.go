// Package sheetpanel is the Sheet panel of the window: it leads through the
// calibration of a map picture, finds its printed grid, compares the calibration with
// features that were not used for it, lists the sheets of the plan and shows how
// accurate a sheet is.
//
// A form takes one position on the picture, seen enlarged, with its reference, and
// keeps it as a control point or as a check. The other parts show what is known of
// the sheet. Each part holds what it needs of Needs and shows itself from the
// session; none knows the window, and only Panel knows them all. What a person
// does goes to the session, and the panel shows the session again after each change.
package sheetpanel
