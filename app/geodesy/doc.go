// Package geodesy turns positions on the earth into coordinates on a walking
// grid and back, and reads and writes grid references.
//
// It holds the ellipsoids, the projections, the datum shifts and the catalogue
// of grids. It knows nothing of pictures, plans, magnetism or files.
//
// # Conventions
//
//   - A Grid is in metres on a named grid; a LatLon is on a named datum. Every
//     method says which: "own datum" is the grid's, and
//     WGS 84 is what receivers give. ETRS89 and NZGD2000 are treated as WGS 84;
//     on the ground they differ by about 0.9 m in 2026, which the stated σ of the
//     shift includes.
//   - Convergence is grid north measured clockwise from true north: negative
//     west of the central meridian in the northern hemisphere.
//   - Scale is length on the grid divided by length on the ellipsoid.
//   - Some grids do not keep angles (Lambert azimuthal, Web Mercator, pictures
//     in degrees): there Convergence and Scale are those of the meridian,
//     Factors.Toward gives them for a line, and Bends says it in words.
//   - Heights are ellipsoidal and zero: a walking grid has no heights, and a
//     kilometre of height moves a shifted position by less than 20 mm.
//   - NaN and infinities are refused with ErrNotFinite.
//   - A reference is truncated when it is written, after a snap to 1 mm.
//   - Coordinates are metres even on grids printed in feet or degrees (FromUnits,
//     InUnits).
//   - A grid is named by its Code: a number alone cannot name a grid by definition. Its
//     datum may be unknown too; then bearings are right, and latitude and longitude carry
//     a stop. The Code of a definition (Define, Definition) is its canonical form, which
//     plans keep under "definition".
//
// # Accuracy
//
// The Transverse Mercator is exact to 1 µm and 1e-9° within 55° of the central
// meridian, to 1 mm and 1e-7° within 70°, and refused beyond. See the tests
// for the published tables that bind each statement.
package geodesy
