package tiff

import (
	"fmt"
	"math"
)

// UserDefined stands in a code where the keys spell the thing out instead.
const UserDefined = 32767

// Geo is what the GeoTIFF tags of a page say about where it lies (OGC
// 19-008r4), as it stands in the file. Picture coordinates are columns and
// rows of the stored picture, before orientation, (0, 0) the top-left corner
// of the first pixel: where the file speaks of pixel centres (PointRaster)
// half a pixel has been added.
type Geo struct {
	// Model is what X and Y are: on a projected grid, longitude and latitude,
	// or geocentric; 0 where the file does not say.
	Model Model
	// PointRaster says that the file gives the positions of pixel centres
	// (RasterPixelIsPoint), not corners.
	PointRaster bool
	// ProjectedCRS and GeographicCRS are EPSG codes, UserDefined, or 0 where
	// absent.
	ProjectedCRS, GeographicCRS int
	// Citation, ProjectedCitation and GeographicCitation are the file's words
	// for them.
	Citation, ProjectedCitation, GeographicCitation string
	// Keys are all the keys of the file, in its order, those above included.
	Keys []Key
	// Points are the tie points that are finite.
	Points []TiePoint
	// Notes are sentences for people about what contradicts itself.
	Notes []string

	scale  []float64 // ModelPixelScaleTag
	matrix []float64 // ModelTransformationTag
}

// Model is the kind of coordinates, the key GTModelType.
type Model int

// The models of the standard.
const (
	Projected  Model = 1
	Geographic Model = 2
	Geocentric Model = 3
)

// TiePoint ties a point in the picture to one in the model.
type TiePoint struct {
	Column, Row float64 // pixels, (0, 0) the corner of the first
	X, Y, Z     float64 // in the units of the model: easting, northing or longitude, latitude
}

// Key is one GeoKey with its value: numbers or a text.
type Key struct {
	ID      int
	Numbers []float64
	Text    string
}

// Affine takes picture coordinates to those of the model:
//
//	X = X0 + XColumn·column + XRow·row
//	Y = Y0 + YColumn·column + YRow·row
type Affine struct{ X0, XColumn, XRow, Y0, YColumn, YRow float64 }

// At gives the model coordinates of a point in the picture.
func (a Affine) At(column, row float64) (x, y float64) {
	return a.X0 + a.XColumn*column + a.XRow*row, a.Y0 + a.YColumn*column + a.YRow*row
}

// Geo reads the GeoTIFF tags; nil where the page has none.
func (p *Page) Geo() *Geo {
	if !p.hasGeo() {
		return nil
	}
	g := &Geo{}
	g.readKeys(p.d)
	g.scale = g.doubles(p.d, tagPixelScale, 3)
	g.matrix = g.doubles(p.d, tagTransformation, 16)
	g.readPoints(p.d)
	if len(g.scale) >= 2 && g.scale[1] < 0 {
		g.note("the scale along the rows is negative, which programs read in different ways: check north and south against the printed grid")
	}
	g.checkPoints()
	return g
}

func (p *Page) hasGeo() bool {
	for _, tag := range []uint16{tagPixelScale, tagTiepoint, tagTransformation, tagGeoKeys} {
		if _, ok := p.d.entries[tag]; ok {
			return true
		}
	}
	return false
}

func (g *Geo) note(format string, args ...any) {
	g.Notes = append(g.Notes, fmt.Sprintf(format, args...))
}

// maxPoints bounds the tie points that are read.
const maxPoints = 100_000

// doubles reads a tag of numbers; what cannot be read leaves a note.
func (g *Geo) doubles(d *directory, tag uint16, most int) []float64 {
	v, err := d.floats(tag, most)
	if err != nil {
		g.note("tag %d, part of the picture's position, cannot be read: %v", tag, err)
	}
	return v
}

func (g *Geo) readPoints(d *directory) {
	v := g.doubles(d, tagTiepoint, 6*maxPoints)
	half := g.half()
	for ; len(v) >= 6; v = v[6:] {
		p := TiePoint{Column: v[0] + half, Row: v[1] + half, X: v[3], Y: v[4], Z: v[5]}
		if !finite(p.Column, p.Row, p.X, p.Y) {
			g.note("a tie point is not a finite number and is ignored")
			continue
		}
		g.Points = append(g.Points, p)
	}
}

// half is how far a point that the file speaks of lies from the same point
// counted from the corner of the first pixel.
func (g *Geo) half() float64 {
	if g.PointRaster {
		return 0.5
	}
	return 0
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// Affine gives the transform that the file states by a scale and a tie point,
// or by a matrix; ok is false where it states none that can be used, such as
// by tie points alone. A scale along the rows is taken as the standard
// says: rows go down while Y goes up, so that north is up for a positive one.
func (g *Geo) Affine() (a Affine, ok bool) {
	h := g.half()
	switch {
	case len(g.scale) >= 2 && g.scale[0] != 0 && g.scale[1] != 0 && len(g.Points) > 0:
		p, sx, sy := g.Points[0], g.scale[0], g.scale[1]
		a = Affine{X0: p.X - sx*p.Column, XColumn: sx, Y0: p.Y + sy*p.Row, YRow: -sy}
	case len(g.matrix) == 16:
		m := g.matrix
		a = Affine{XColumn: m[0], XRow: m[1], YColumn: m[4], YRow: m[5]}
		a.X0 = m[3] - h*(m[0]+m[1])
		a.Y0 = m[7] - h*(m[4]+m[5])
	default:
		return Affine{}, false
	}
	det := a.XColumn*a.YRow - a.XRow*a.YColumn
	if !finite(a.X0, a.Y0, a.XColumn, a.XRow, a.YColumn, a.YRow, det) || det == 0 {
		return Affine{}, false
	}
	return a, true
}

// checkPoints compares further tie points with the transform.
func (g *Geo) checkPoints() {
	a, ok := g.Affine()
	if !ok {
		return
	}
	const within = 0.01 // pixels
	tolerance := within * math.Sqrt(math.Abs(a.XColumn*a.YRow-a.XRow*a.YColumn))
	for _, p := range g.Points {
		if x, y := a.At(p.Column, p.Row); math.Hypot(x-p.X, y-p.Y) > tolerance {
			g.note("the file's tie points and its scale disagree: check the sheet against the printed grid")
			return
		}
	}
	if len(g.scale) >= 2 && len(g.matrix) == 16 {
		g.note("the file gives the picture's position twice, by a scale and by a matrix: the scale is used")
	}
}
