// Package check says of all sheets of a plan at once whether evidence checks them,
// to how many metres and for what, and what speaks against them.
//
// A sheet is checked only if no stop stands against it, its evidence agrees (99 % of
// sound evidence does), and no slip of the list is open: one that points and
// evidence together would not show and that would do harm (see package slips). What
// evidence can show depends on where its reference comes from:
//
//   - Figures read off this map's own grid are moved by slips of all points as those
//     are. They show slips of single points and lines and what a file has wrong, and
//     never check a sheet of typed references alone.
//   - Latitude and longitude in the margin are such figures too where a control point
//     was made from them.
//   - Easting and northing say nothing of the grid's name: a zone, a hemisphere. Only
//     latitude and longitude, a file, a reference that names its zone, or a checked
//     sheet does.
//   - The same feature on another sheet counts once that sheet is checked. Sheets that
//     rest on each other alone are unchecked: verdicts are the least fixed point.
//   - Heights read off this map's contours have no reference. A slip moves them over other
//     ground, and shows where terrain has other heights there: they are read at the places
//     to which the slip moves them, and never guessed from a slope. It takes six, and ground
//     on which they agree nowhere else that terrain reaches; to where it does not reach
//     a slip then counts as shown. How far they may be moved together and agree bounds
//     the check.
//
// The verdict is never stored.
package check
