// Package leg turns two positions into a reading: bearings from three norths,
// distances, uncertainty, what to set on the party's compass, and the cautions
// that say where a figure cannot be trusted. With a height model (Reader.Over) a
// row also has climb, descent and profile, and two positions a line of sight. It
// neither draws nor writes.
//
// # How a reading is made
//
// The grid bearing and the grid distance come from the two grid positions.
// Convergence γ and declination D are taken at the FROM point, D at its WGS 84
// position on the ellipsoid, at 0 h UTC of the plan's date. Then
//
//	true = grid + γ,  GMA = D − γ,  magnetic = grid − GMA.
//
// The back bearing on the grid is the bearing turned by half a circle. The
// magnetic back bearing uses γ and D of the far end, for that is where the
// compass will be.
//
// No arc-to-chord correction is made: the bearing is that of the straight line
// on the sheet, which is what is measured with a protractor. Against the
// geodesic the true bearing differs by less than 0.0013° up to 10 km and by
// less than 0.0056° up to 50 km within a UTM zone (measured on the 500 legs
// of the tests).
//
// # Ground
//
// Hazards and areas of ground are met as they are drawn. Where an area lies its ground holds, and
// elsewhere that of the leg; of several at one position the slowest, and bog counts as rough. Climb
// and descent are spread over the whole leg. A leg goes into plantation where it lies more than 2 m
// within its edge, and farther than 20 m from both ends of the leg. A way off along a path, a track
// or a road keeps its own ground.
//
// # Uncertainty
//
// The σ of bearing and distance are the linear propagation of the ends' joint
// 4×4 covariance, which two ends picked on one sheet share in part. The σ of
// the magnetic bearing adds the magnetic model's: √(σ_bearing² + σ_D²). The
// compass and the walker are not in it: they belong to the party. Only SetSigma, of
// the figure to set, adds the compass, and Reading.Paces the pacing.
package leg
