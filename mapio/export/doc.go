// Package export writes a plan in an open format, which the ending of the file chooses: GPX,
// GeoJSON, KML or CSV. Bench and headless commands both write by it, so that they write the
// same bytes. What each format says is decided in its own room.
package export
