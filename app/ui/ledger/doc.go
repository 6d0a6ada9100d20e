// Package ledger is the table of legs below the sheet, one row a leg in the order of
// a route card, with its heading. It listens to the session, and what is typed into a
// cell is an act of the session. It is not the place for what a leg is computed from:
// that is app/leg.
//
// One picture holds all rows: a hundred text objects of the toolkit would cost more of
// each frame than the sheet. Where the window is narrow the table moves sideways under
// the column of leg numbers, which stays. What a column shows, how wide it is and what
// typing into it changes stands in one entry of columns. A name may be cut, a reference
// never: the columns of the ends grow with the longest one in the rows.
//
// A column that an edge of the window cuts is not written: a figure without its first
// digit is another figure. What is chosen elsewhere in the window moves the table to its
// row and never sideways. Hidden columns are kept by their heads from start to start.
//
// A new column is an entry in columns (columns.go: head, widths, what typing changes, how
// a cell is written, the widest text that the narrowest width holds whole) with the
// function that writes its cells. A figure that leg.Row lacks comes first, in
// app/leg/row.go. The tests hold the widths and that every cell is filled.
package ledger
