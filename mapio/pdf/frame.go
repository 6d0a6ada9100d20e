package pdf

import (
	"math"

	"legwright/app/geodesy"
)

// Kind is which of the two standards a frame follows.
type Kind int

// The kinds of statement.
const (
	// Viewport is a viewport with a measure dictionary, ISO 32000-2, 12.9.
	Viewport Kind = iota + 1
	// Registration is an LGIDict, OGC 08-139r3.
	Registration
)

// String is the kind in words for people.
func (k Kind) String() string {
	switch k {
	case Viewport:
		return "PDF viewport (ISO 32000)"
	case Registration:
		return "PDF registration (OGC best practice)"
	}
	return "unknown kind"
}

// Frame is one statement of where a map on a page lies.
type Frame struct {
	Kind Kind
	// EPSG is the grid's code, 0 where the file gives none.
	EPSG int
	// Definition is the grid as well-known text or a PROJ string, or ""; Spelt is
	// the grid from single parameters, or nil if they could not be read.
	Definition string
	Spelt      *geodesy.Definition
	// Degrees says that Points are latitude and longitude on the grid's own
	// datum; otherwise they are easting and northing in the grid's unit.
	Degrees bool
	// Points tie points of the page to the ground.
	Points []Point
	// Matrix takes user space to easting and northing in the grid's unit, in
	// the order of Page.ToPicture; nil where the file gives points only.
	Matrix *[6]float64
	// Outline is the edge of the map in user space, with at least three
	// corners; the page's where the file states none.
	Outline [][2]float64
	// Notes are sentences for people.
	Notes []string
}

// Point ties a point in user space to one on the ground.
type Point struct {
	X, Y float64
	// East and North are in the grid's unit, or longitude and latitude in
	// degrees.
	East, North float64
}

// Area is that of the outline, in square units of user space.
func (f Frame) Area() float64 {
	var sum float64
	for i, a := range f.Outline {
		b := f.Outline[(i+1)%len(f.Outline)]
		sum += a[0]*b[1] - b[0]*a[1]
	}
	return math.Abs(sum) / 2
}
