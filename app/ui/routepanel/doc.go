// Package routepanel is the Route panel's lower part: what to do next, the thing that
// is selected, the lists of marks, sights and tracks, and what concerns the plan as a
// whole. It also asks for a mark at a reference, for the party, and for the name of an
// end, and finds things on the sheets. It listens to the session and fills the section
// that is seen, once after an act; while something is dragged it fills nothing.
//
// It draws nothing over the sheet and reads no bearing: that is sheetview.
package routepanel
