// Package tiff reads pictures and terrain stored as TIFF: classic and BigTIFF,
// strips and tiles, whole or a window at a time, with the reduced copies that
// a file may hold and the GeoTIFF keys that say where it lies. It does not
// turn pictures upright, does not interpret coordinate systems and writes
// nothing.
//
// # Sources
//
// TIFF revision 6.0 (Adobe, 1992); its Technical Notes 1 (SubIFDs, long data
// types, 1995) and 2 (JPEG compression, 1995) and the PhotoShop notes (2002,
// deflate); Technical Note 3 (floating-point predictor, 2005); the BigTIFF
// layout; ITU-T T.4 and T.6 for facsimile codes; OGC 19-008r4 (GeoTIFF 1.1);
// the GDAL_NODATA tag 42113.
//
// # How a window is decoded
//
// A page is cut into chunks: strips or tiles, one set for each plane. Only
// those that meet the window are read, each through a stream that yields one
// row at a time, so that a file stored as a single strip needs no second copy
// in memory. Two goroutines share the chunks. JPEG chunks are the exception:
// each is decoded whole. Rows go straight into the form of the result:
//
//   - grey of 1 to 16 bits: *image.Gray, 16-bit samples by their high byte;
//   - palette: *image.Paletted with as many colours as the bits allow;
//   - RGB, RGB with associated alpha, CMYK (mixed without a profile): *image.RGBA;
//   - colour or grey with unassociated alpha: *image.NRGBA;
//   - YCbCr, in JPEG: *image.YCbCr with the subsampling stored, taken
//     by the coefficients of JPEG (ITU-R BT.601, full range) whatever the
//     file says about them; a blank part is black.
//
// Extra samples without a meaning are ignored. Signed, floating-point and
// 32-bit samples are terrain rather than pictures: Samples gives them as
// float64.
//
// # Faults
//
// No claim of a file is believed before it is checked against the size of the
// file and what its encoding can give at best. A chunk that is damaged or
// lies beyond the end is an error, and then there is no picture. Damage inside
// a progressive JPEG chunk is not seen unless it lacks its end.
//
// Not read are facsimile data in modified Huffman code, in two dimensions by
// group 3 or with fill bits before the ends of lines, and LZW data from before
// TIFF 5.0 (1988): hardly anything writes them.
package tiff
