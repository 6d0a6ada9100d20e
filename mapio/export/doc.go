// Package export writes a plan in an open format, which the ending of the file chooses: GPX,
// GeoJSON, KML or CSV. The bench and the headless commands both use it, so that they write
// the same bytes. What each format says is decided in its own room.
package export
