// Package relief shows over the sheet what terrain says of its ground: hatching where it
// is steep, contours at the interval that the sheet prints, and crosses where terrain has
// no heights. A legend over the sheet says what is drawn and what it cannot show.
//
// The ground is read beside the window, once for a sheet, its calibration and its terrain;
// after a change of those what was read is no longer drawn, and it is read again. How it
// is drawn is canvas/overlay's.
package relief
