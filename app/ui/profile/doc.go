// Package profile draws the ground along a line into a picture, small in a row of the
// ledger and large in the Route panel. It knows pictures and heights; what is walked
// where, and every text, belongs to the rooms that show it.
//
// # Gaps
//
// Where terrain has no height nothing is drawn but a hatching: a line would be read as
// level ground. A gap is as wide as the way without heights and never narrower than a
// column of pixels.
package profile
