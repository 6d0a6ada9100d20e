// Package pyramid holds a decoded map picture as levels of half the size
// each, and cuts from them the tiles and turned regions that a view paints.
// It knows nothing of windows, plans or files, and imports nothing of ours.
//
// # Plan
//
// Level 0 is the decoded picture itself, in the form in which the decoder
// left it (planes of YCbCr, grey, palette or RGBA). It is read in place and
// never copied or converted as a whole. Level n is the picture at 1/2ⁿ,
// sides rounded up: its pixel (i, j) stands for the picture pixels
// [i·2ⁿ, (i+1)·2ⁿ) × [j·2ⁿ, (j+1)·2ⁿ) as far as they exist. Levels 1 and up
// are made in the background, each from the one before, by a mean over 2×2
// pixels on at most two goroutines. They keep the colour form of the picture:
// grey stays grey, and since the chroma planes of a 4:2:0 picture already
// have half the size, level 1 uses those planes as they are and only halves
// luma. The chain ends when the longer side is 64 pixels or less.
//
// A view asks in one of two ways. While grid and screen are parallel it
// draws tiles of 512 pixels (Request, Tile). While the view is turned, or
// for anything else at an angle, it has Region resample straight from the
// right level into a buffer of its own. Both need a bounded work area: a
// tile, or a block of 64 pixels. Nothing is ever as large as the picture, so
// neither the size of a texture nor a second full-size buffer is a limit.
//
// # Memory
//
// With P the number of picture pixels, the levels take, beside the picture:
//
//	grey          P/3 bytes
//	YCbCr 4:2:0   P/2 bytes
//	YCbCr 4:4:4   P bytes
//	others        4P/3 bytes
//
// Tiles are RGBA of at most 1 MiB and are kept within a budget, 256 MB
// unless told otherwise; what was used longest ago leaves first. A tile that
// was never handed out, or was given back with Release, leaves its buffer to
// the next one. One that is still in a caller's hands is left to the garbage
// collector, because its pixels must not change under a texture.
//
// # Averaging and gamma
//
// The mean is taken over the encoded (gamma) values, not over linear light.
// Maps are thin dark lines and figures on light paper. A one-pixel black
// line on white keeps, at 1/4 size, a contrast of 25 % in the mean of encoded
// values, but only about 12 % in linear light, where the white paper
// outshines it. Legibility decides against photometric truth here.
// Premultiplied alpha is averaged, so transparent pixels add no colour.
package pyramid
