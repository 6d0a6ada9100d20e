// Package units holds the angles, the three kinds of bearing, the lengths and
// the durations of the bench, and turns them into text and back. It knows
// nothing of maps, grids or magnetism.
//
// # Signs, stated once for the whole house
//
//   - Convergence γ is grid north measured clockwise from true north.
//   - Declination D is magnetic north measured clockwise from true north, so
//     it is positive when magnetic north lies east of true north.
//   - The grid-magnetic angle is GMA = D − γ: magnetic north measured
//     clockwise from grid north.
//   - true = grid + γ and magnetic = grid − GMA.
//
// A worked case: on a grid bearing of 057° where γ = −1.5° and D = +0.5°, the
// GMA is +2.0° (2° east), the true bearing 055.5° and the magnetic bearing
// 055°.
//
// Bearings lie in [0, 2π); differences in (−π, π]. Rounding happens only when
// text is made.
package units
