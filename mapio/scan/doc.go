// Package scan opens pictures of maps: PNG, JPEG, TIFF, WebP, BMP, GIF and
// pages of PDF documents, with their resolution, their orientation and the data
// that says where they lie (GeoData), which package georef makes sense of.
// It does not look for a grid, does not calibrate and does not make levels.
//
// # Picture coordinates
//
// Column right, row down, in pixels, (0, 0) the top-left corner of the
// top-left pixel of the picture as shown, that is after the orientation
// written in EXIF or TIFF has been applied.
//
// # Memory
//
// The header is read and checked against the limits before a single pixel is
// allocated. What a decoder gives is kept in its own form (grey, YCbCr,
// palette, RGBA) and changed in place: 16-bit samples are squeezed to 8,
// grey palettes become grey, CMYK becomes RGBA, mirrored and upside-down
// pictures are turned, all within the same memory. The one exception is a
// picture stored on its side (orientation 5 to 8, photographs): each of its
// planes is turned into a new one before the old one is freed, so that the largest
// is in memory twice for a moment. An Opener never holds two decodes at a time. A
// large baseline JPEG, or a TIFF with
// overviews, can be taken row by row while it is decoded (Flow), and then is
// never in memory as a whole. Nobody may touch the picture's pixels after Options.Flow
// has returned: their memory is given back row by row.
//
// # Faults
//
// Decoders run behind recover, in a goroutine that is left behind when the
// context ends; it stops at its next read or row of blocks. A damaged or cut-off
// picture is refused, with an error that says what is wrong and what to do: a map
// whose blocks have slipped looks sound but shows its ground in the wrong position.
// The damage may show only after a preview was handed out. A JPEG that lacks only
// its end mark opens. A file that changes while it is read is refused too, and an
// error of the drive is passed on.
package scan
