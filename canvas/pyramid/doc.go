// Package pyramid holds a decoded map picture as levels of half the size
// each, in memory or in a store on disk, and cuts from them the tiles and
// turned regions that a view paints. It knows nothing of windows, plans or
// picture formats, and imports nothing of ours.
//
// # Plan
//
// Level 0 is the decoded picture itself, in the form in which the decoder
// left it (planes of YCbCr, grey, palette or RGBA). It is read in place and
// never copied or converted as a whole. Level n is the picture at 1/2ⁿ,
// sides rounded up: its pixel (i, j) stands for the picture pixels
// [i·2ⁿ, (i+1)·2ⁿ) × [j·2ⁿ, (j+1)·2ⁿ) as far as they exist. Levels keep the
// colour form of the picture: grey stays grey, a palette becomes RGBA from
// level 1 on, and since the chroma planes of a 4:2:0 picture already have
// half the size, level 1 uses their samples as they are. The chain ends when
// the longer side is 64 pixels or less.
//
// A picture comes in three steps: its size (NewPending), a smaller picture
// that stands in for the coarser levels (Preview), the picture (Fill). With
// Fill levels 0, 1 and 2 are ready at once, because a tile of theirs can be
// made from the picture in a few milliseconds; the others follow in one pass
// from top to bottom (pass), which on two goroutines holds one row of tiles
// of every level and hands each row on as soon as it is full. Without a
// preview a first pass makes the coarse levels alone, so that the whole sheet
// is sharp soon, before a second one writes to disk.
//
// A raw tile is a tile in the level's own form: grey, YCbCr, RGBA or a palette. With
// a Store the pass writes every raw tile to a file. When that is whole the picture
// and all levels above 1,024 pixels leave the memory, and everything is served from
// the file: read, checked against its CRC-32C, converted. A damaged file is removed, its levels
// are no longer ready, and the picture is read again through Reload; coarser
// levels stand in meanwhile. Without a store, with a full disk or a folder
// that cannot be written to, level 2 and the coarser ones stay in memory beside the
// picture. A killed process leaves an unfinished file; its name says which process
// wrote it (Owner), and the next process that opens the store removes it. Nothing
// is ever synced: the checksums show a loss of power, and a cache needs no more
// care than that. A deleted folder is made again for the next picture.
//
// A large picture that is decoded from top to bottom can go to the store
// meanwhile (Flow): the pass waits for each row of tiles and lets it go, so that
// the picture is never in memory as a whole. Until its end the preview is shown.
// If it ends early the file is removed, and the picture comes by Fill.
//
// Several views may look at one pyramid, such as two windows: each asks through an
// Asker of its own. A view asks in one of two ways. While grid and screen are parallel it
// draws tiles of 512 pixels (Request, Tile). While the view is turned, or
// for anything else at an angle, it has Region resample straight from the
// right level into a buffer of its own. Both need a bounded work area: a
// tile, or a block of 64 pixels.
//
// # Memory
//
// With P the number of picture pixels the levels take, beside the picture,
// P/12 bytes (grey), P/4 (YCbCr) or P/3 (others). With a store it is a quarter
// of that at most, until the file holds all of it; while that is written, one
// row of tiles a level more, which for 20,000 pixels across and RGBA is 40 MB.
// With Flow that, and what the decoder is ahead, is all.
// Afterwards the levels up to 1,024 pixels remain, 6 MB at most.
//
// Tiles are RGBA of at most 1 MiB. With the raw tiles kept for turned regions in the
// raw cache (32 MB at most, and an eighth of the budget) and what callers reserve they
// keep within a budget, 256 MB unless Options says otherwise. Tiles leave by their
// distance from the screen and their age (farness), and those that a caller uses leave
// last. A tile that was never handed out, or was given
// back with Release, leaves its buffer to the next one. One that is still in
// a caller's hands is left to the garbage collector, because its pixels must
// not change under a texture.
//
// # How a level is averaged
//
// A pixel is the mean of the 2×2 below it, drawn a quarter of the way to the
// darkest of them, each channel for itself; chroma is the plain mean. This is
// done on the encoded (gamma) values, not in linear light. Maps are thin dark
// lines and figures on light paper, and both choices favour them: in linear
// light white paper outshines a line. Measured on the middle of the demo
// sheet and scan at 1/4 (TestFilterTable), in per cent of the paper around:
//
//	              thin lines      weakest tenth   gaps between lines
//	              sheet  scan     sheet  scan     sheet  scan
//	plain mean    16.2   16.4      8.0    8.8     98.7   97.9
//	Lanczos       19.4   19.3     10.5   11.6     96.1   95.6
//	this one      23.3   22.9     14.1   14.5     98.3   97.1
//	half the way  31.5   30.2     21.6   20.9     97.5   95.7
//
// Half the way to the darkest has more contrast still, but by eye names and
// contour figures grow fat and run together. The price: light lines on dark
// ground lose what dark ones gain, and noisy paper darkens by a fraction of
// its noise. Premultiplied alpha is averaged like the colours, so transparent
// pixels add none.
package pyramid
