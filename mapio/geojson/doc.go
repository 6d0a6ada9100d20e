// Package geojson writes features and reads lines, areas and points as RFC 7946 has them: UTF-8
// text, longitude before latitude, on WGS 84. It does not know what a shape of other origin is
// in a plan; of those that it wrote it reads what they were.
//
// It reads with encoding/json and not with a library of shapes, which set 0 for a missing
// number: a position that can be. Heights are ignored. The older GeoJSON, which may name
// another coordinate system, is refused where it does: numbers of a grid would be taken
// for degrees.
package geojson
