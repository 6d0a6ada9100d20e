// Package table writes the ledger of a plan as cells for spreadsheets: as CSV (RFC 4180) in
// UTF-8 with a byte order mark, by which spreadsheets know UTF-8, and as tab-separated text for the
// clipboard. The first cell of a row is its stops, the last all its cautions.
//
// A cell that a spreadsheet would compute gets an apostrophe before it: names and notes come
// from files of other people too (OWASP, “CSV Injection”: what begins with = + - @, a tab or a
// carriage return).
package table
