// Package jpg decodes large JPEG pictures: baseline and progressive, grey and
// YCbCr of the common samplings, Huffman-coded, 8 bits (ITU-T Rec. T.81).
// What it does not read (four inks, RGB, arithmetic coding, 12 bits, lossless)
// it refuses with ErrUnsupported, for another decoder to try. It does not look
// at EXIF, does not turn pictures and does not convert colours.
//
// # Why a decoder of our own
//
// A map scan of 300 megapixels must open within the memory of a laptop, with
// a sharp small picture first. So one pass over the coded data feeds both: a
// goroutine undoes the Huffman coding, a second makes pixels of the row of
// blocks before it, and the small picture falls out of the blocks' means (the
// DC coefficient is eight times the mean of its block, T.81 A.3.3). Nothing
// is held of the file but a buffer. Progressive pictures keep their
// coefficients in 16 bits and have no small picture: 4.5 bytes per pixel at the
// most with 4:2:0 chroma, where general decoders take 7.5, and the faster of them
// ignores nearly all damage silently.
//
// # Damage
//
// A map whose blocks have slipped shows its ground in the wrong position. So the
// decoder checks every code against its table, and the data against the number of
// blocks: every code must exist, every block must end, and the data must last
// exactly to the last block. It stops at the first fault with an error and returns
// no picture.
package jpg
