// Package demo holds the demo: an invented island group drawn as a clean sheet and
// as a scan of it, the exact relation of both pictures to the grid, and the
// content of the demo plan as plain data. It is neither a plan file nor a codec
// and imports nothing of ours. cmd/demosheet draws the pictures from it.
//
// The sheet lies on EPSG:27700 in the 100 km square NL, between eastings 21 000 and
// 34 000 and northings 740 000 and 748 000. That is open Atlantic, about 60 km
// west of Tiree and more than 30 km from Barra Head, with no land and no rock
// above water, so nobody can mistake the ground for a place that exists; and it
// is inside the 700 km by 1250 km rectangle of the OSTN15 shifts, so the
// demo runs through the full datum chain.
package demo

import "math"

// Truth is the exact relation between a picture and the grid:
//
//	E = A·col + B·row + C
//	N = D·col + E·row + F
//
// Picture coordinates are pixels, col right and row down; (0, 0) is the top-left
// CORNER of the top-left pixel. Eastings and northings are metres.
type Truth struct {
	EPSG   int        `json:"epsg"`
	Width  int        `json:"width_px"`
	Height int        `json:"height_px"`
	DPI    float64    `json:"dpi"`
	Matrix [6]float64 `json:"matrix"` // A, B, C, D, E, F
}

// The clean sheet: 600 mm × 400 mm at 1:25 000 and 254 pixels per inch, so a pixel is 0.1 mm or 2.5 m.
const (
	epsg           = 27700
	sheetWidth     = 6000
	sheetHeight    = 4000
	sheetDPI       = 254
	metresPerPixel = 2.5
	westEdge       = 20000.0
	northEdge      = 748750.0
)

// The neat line of the sheet, in metres on the grid.
const (
	West  = 21000.0
	East  = 34000.0
	South = 740000.0
	North = 748000.0
)

// The scan: the sheet laid on the glass turned clockwise by 1.1° and read at 250 pixels per inch.
const (
	scanWidth   = 6016
	scanHeight  = 4088
	scanDPI     = 250
	scanTurnDeg = 1.1
	scanMidCol  = 3011.25 // where the middle of the sheet lies on the scan
	scanMidRow  = 2041.5
)

// SheetTruth returns the relation of the clean sheet to the grid. It is exact.
func SheetTruth() Truth {
	return Truth{
		EPSG: epsg, Width: sheetWidth, Height: sheetHeight, DPI: sheetDPI,
		Matrix: [6]float64{metresPerPixel, 0, westEdge, 0, -metresPerPixel, northEdge},
	}
}

// ScanTruth returns the relation of the scan to the grid: a similarity, exact to float64.
func ScanTruth() Truth {
	s, c := math.Sincos(scanTurnDeg * math.Pi / 180)
	m := metresPerPixel * sheetDPI / scanDPI
	midE := westEdge + metresPerPixel*sheetWidth/2
	midN := northEdge - metresPerPixel*sheetHeight/2
	return Truth{
		EPSG: epsg, Width: scanWidth, Height: scanHeight, DPI: scanDPI,
		Matrix: [6]float64{
			m * c, m * s, midE - m*(c*scanMidCol+s*scanMidRow),
			m * s, -m * c, midN - m*(s*scanMidCol-c*scanMidRow),
		},
	}
}

// Grid returns the easting and northing in metres of a picture position.
func (t Truth) Grid(col, row float64) (e, n float64) {
	m := t.Matrix
	return m[0]*col + m[1]*row + m[2], m[3]*col + m[4]*row + m[5]
}

// Pixel returns the picture position of an easting and northing in metres.
func (t Truth) Pixel(e, n float64) (col, row float64) {
	m := t.Matrix
	det := m[0]*m[4] - m[1]*m[3]
	de, dn := e-m[2], n-m[5]
	return (m[4]*de - m[1]*dn) / det, (m[0]*dn - m[3]*de) / det
}

// Intersection returns where the point of easting e and northing n, in metres, lies on the
// scan. For whole kilometres inside the neat line a printed grid intersection is there.
func Intersection(e, n float64) (col, row float64) { return ScanTruth().Pixel(e, n) }

// GridPoint is an intersection of two printed grid lines, in metres.
type GridPoint struct{ E, N float64 }

// CornerIntersections returns the four intersections one kilometre inside the corners of the
// neat line, clockwise from the north-west: the natural ones to calibrate on.
func CornerIntersections() [4]GridPoint {
	return [4]GridPoint{
		{West + 1000, North - 1000},
		{East - 1000, North - 1000},
		{East - 1000, South + 1000},
		{West + 1000, South + 1000},
	}
}
