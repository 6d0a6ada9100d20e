// Package scan opens pictures of maps: PNG, JPEG, TIFF, WebP, BMP, GIF and
// pages of PDF documents, with their resolution, their orientation and what
// says where they lie, in the file or in a world file beside it.
// It does not look for a grid, does not calibrate and does not make levels.
//
// # Picture coordinates
//
// Column right, row down, in pixels, (0, 0) the top-left corner of the
// top-left pixel of the picture as shown, that is after the orientation
// written in EXIF or TIFF has been applied. World files speak of the centre
// of the first stored pixel; FindWorld and Open convert that at the door.
//
// # Memory
//
// The header is read and held against the limits before a single pixel is
// allocated. What a decoder gives is kept in its own form (grey, YCbCr,
// palette, RGBA) and changed in place: 16-bit samples are squeezed to 8,
// grey palettes become grey, CMYK becomes RGBA, mirrored and upside-down
// pictures are turned, all within the same memory. The one exception is a
// picture stored on its side (orientation 5 to 8, photographs): each of its
// planes is turned into a new one before the old is let go. An Opener never
// holds two decodes at a time. A large baseline JPEG, or a TIFF with
// overviews, can be taken row by row while it is decoded (Flow), and then is
// never in memory as a whole.
//
// # Faults
//
// Decoders run behind recover, in a goroutine that is left behind when the
// context ends; it stops at its next read or row of blocks. A cut-off or
// damaged JPEG, PNG or TIFF is shown as far as it could be decoded and says
// so in Scan.Warnings. Damage inside a large JPEG that mapio/jpg does not
// read (four inks, RGB) is found by Scan.Verify, after opening. A file that
// changes while it is read is said to have, and an error of the drive is
// passed on. Other kinds, and pictures of which nothing can be shown, are
// errors that say what is wrong and what can be done.
package scan
