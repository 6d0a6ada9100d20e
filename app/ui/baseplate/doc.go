// Package baseplate draws a compass with a clear plate into a square picture: the plate
// with its long edges and its arrow, the housing of the dial on it, and under it the line
// between two ends and the grid lines. It knows angles and colours, and nothing of plans,
// widgets or Fyne. What the steps are and what they mean is app/teach's.
//
// # What the picture says
//
// Grid north is always up. While the compass lies on the map, that is the map's grid
// north as the walker holds it; while it is in the hand, that of the ground. So plate,
// housing and line stand alike in the picture of the map and in that of the ground when
// all is done right, and only the needle and the walker turn between the two. The map
// under the compass is a plain drawing of its own, so nothing lies on the sheet.
//
// Lengths are fractions of half the side, counted from the middle of the picture, which
// is the middle of the housing. The line is drawn as long as the picture allows, whatever
// its length on the ground.
package baseplate
