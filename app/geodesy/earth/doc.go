// Package earth holds ellipsoids, positions on them and on grids, and areas of latitude
// and longitude. It is the ground floor of package geodesy, whose conventions hold.
package earth
