// Package earth holds ellipsoids, positions on them and on grids, and areas of latitude
// and longitude. It is the lowest room of package geodesy, whose conventions it follows.
package earth
