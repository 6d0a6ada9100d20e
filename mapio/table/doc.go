// Package table writes the ledger of a plan as cells for spreadsheets: as CSV (RFC 4180) in
// UTF-8 with a byte order mark, by which spreadsheets recognise it, and as tab-separated text for the
// clipboard. The first cell of a row is its stops, the last all its cautions.
//
// A cell that a spreadsheet would compute gets an apostrophe in front: names and notes may come
// from other people's files (OWASP, “CSV Injection”: what begins with = + - @, a tab or a
// carriage return). So do names and notes that it would take for a date or another figure.
package table
