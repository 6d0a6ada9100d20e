// Package alike says whether two pictures of maps show the same ground around a
// feature that was clicked on both. It knows nothing of windows or plans, and
// imports nothing of ours.
//
// The two patches have one size and direction: whoever cuts them turns and scales
// one by what both calibrations say of their surroundings. What is compared is the
// normalised cross-correlation of tiles, each over a small window of displacements
// that is the same for all tiles. Grid lines look alike at every intersection, so a
// tile that nothing but a line crosses must not decide: the figure is that of the
// lower quartile of the tiles, and too few tiles with a drawing on them is no
// comparison at all.
//
// Least comes from made sheets (TestLeast): two prints of one invented ground, 4 to 8 m
// a pixel, turned by up to 5°, with other ink and noise, clicked with 0.7 pixels each and
// matched by fits that are out by 0.2° and 0.3 %. Of 600 pairs of one feature, half of
// them at grid intersections, none had less than 0.73; of 900 pairs of other ground, a
// third of them both at grid intersections and a third only 120 m apart, none had more
// than 0.21. Real prints differ more than made ones do, so Least lies nearer to the
// latter; prints of different map series are mostly refused, which is the safe side.
package alike
