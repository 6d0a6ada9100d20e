// Package kml reads ground overlays of KML: pictures that a file or an archive
// lays over a box of latitude and longitude, turned or not, or over a
// quadrilateral. It reads no other features, follows no link elsewhere,
// opens no file itself and knows no walking grid: mapio/scan turns an overlay
// into the place of a picture.
//
// # Sources
//
// OGC 12-007r2 (KML 2.3): GroundOverlay, LatLonBox, LatLonQuad, and the annex
// on KMZ archives; the elements with the same names of OGC 07-147r2 (KML 2.2)
// and of its extension by gx. Names are taken whatever their namespace.
//
// # Limits
//
// A document has at most MaxDocument bytes and MaxOverlays overlays, nested at
// most 100 deep; an archive at most 10,000 entries. A picture in an archive
// has at most MaxPicture bytes once unpacked, whatever the archive says of it.
package kml

import "errors"

// The kinds of failure; every error of this package wraps one of them or is
// the reader's own.
var (
	// ErrNotKML: it is no KML document, or no archive with one.
	ErrNotKML = errors.New("this is not a KML document")
	// ErrNoOverlay: it holds no ground overlay with a picture.
	ErrNoOverlay = errors.New("this file lays no picture over the ground")
	// ErrLink: the overlay's picture is somewhere that is not looked into.
	ErrLink = errors.New("the picture's link is not followed")
	// ErrMissing: the picture that the overlay names is not there.
	ErrMissing = errors.New("the picture is missing")
	// ErrTooLarge: it is beyond the limits of this package.
	ErrTooLarge = errors.New("the KML file is too large")
	// ErrLocked: an entry of an archive is encrypted. It follows the name of the entry.
	ErrLocked = errors.New("is protected by a password")
	// ErrDamaged: an archive cannot be unpacked.
	ErrDamaged = errors.New("the archive is damaged")
)

// Limits in bytes and in number.
const (
	MaxDocument = 16 << 20
	MaxPicture  = 256 << 20
	MaxOverlays = 10_000
)
