// Package view turns picture pixels into screen pixels and back. A View is
// an immutable similarity: scale, turn and offset, with the sizes of the map
// area and of the picture, so that it can keep the sheet in sight. It knows
// nothing of windows, tiles, plans or grids, and imports nothing of ours.
//
// # Spaces
//
// PicPt counts pixels of the picture as shown, column right, row down, with
// (0, 0) at the top-left corner of the top-left pixel. ScreenPt counts
// physical pixels of the map area, (0, 0) at its top-left corner; the centre
// of the first screen pixel is (0.5, 0.5).
//
// # Whole pixels
//
// Every View that this package makes stands on a lattice: its offset is a
// whole number of screen pixels, and its scale is m/512 · 2ⁿ with a whole m in
// (256, 512]: 512 pixels of a level 1/2ⁿ (see Level) are drawn on m screen
// pixels.
// So the edges of all full tiles of 512 pixels fall on screen pixels by
// themselves, tiles meet without seams, and what a View says of a pointer's
// position is where the pixel really is drawn. The price is that a scale is
// rounded by at most one part in 512, and that the point under the pointer
// moves by up to half a pixel in each direction when zooming.
package view
