package caution

// Known reports whether the table has a row for a code.
func Known(code Code) bool { _, ok := rows()[code]; return ok }

// Rows is how many rows the table has.
func Rows() int { return len(rows()) }
