// Package rectify writes the picture of a calibrated sheet again with grid
// north up and square metres, for printing: each pixel of it covers the same
// ground, whatever the fit had to make of a turned scan, a photograph or folded
// paper. It does not calibrate, and what it writes is as good as the sheet it
// was made from and no better: a band below the map, and the text of the file,
// say from which fit, how exact, and whether the sheet is checked.
//
// # Memory
//
// The picture is asked for in rectangles of a few hundred pixels, and what is
// made of it lives in two strips of stripRows rows, of which one is drawn while
// the other is written: PNG and JPEG are written from top to bottom. Beside the
// sheet's own picture that is about a kilobyte for each column.
//
// # Where a pixel comes from
//
// Blocks of blockPx pixels are mapped from grid to picture at nine points.
// Places between are interpolated by parabolas where that leads to within
// tolerancePx of a picture pixel at four points more, else the block is
// quartered. Between
// picture pixels the colour is that of cubic convolution (Keys, "Cubic
// convolution interpolation for digital image processing", 1981, a = −1/2);
// where a pixel covers more than one of the picture's it is the mean of several
// readings across it.
//
// # What is left out, and what is marked
//
// Paper white stands where the picture ends, and where the fit squeezes or
// stretches it more than maxStretch times its scale amid the points, as towards
// the horizon of a photograph. Where the control points do not reach (see
// calib.Trusted) the picture is paled and struck through.
package rectify
