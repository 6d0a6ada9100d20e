// Package datum holds the shifts between the datums of maps and WGS 84: shifts of three
// and of seven parameters, the published OSTN15 grid, and which of them is used where.
package datum
