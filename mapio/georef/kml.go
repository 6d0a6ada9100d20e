package georef

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/mapio/kml"
	"legwright/mapio/scan"
)

const (
	// straightPx is how far, in pixels, an affine fit may be off the overlay that it
	// replaces. If it is farther off, points over the whole picture are used.
	straightPx = 0.1
	// exactPx is the standard deviation of a computed point, in pixels.
	exactPx = 0.05
	// fewestPoints and mostPoints are numbers of points along a side;
	// overlayChecks is how many positions along a side a fit is compared at.
	fewestPoints, mostPoints, overlayChecks = 4, 7, 9
	// nearPole is the latitude in degrees beyond which an edge of a box is a point:
	// some ten metres around the pole.
	nearPole = 89.9999
)

// fromOverlay is the georeference by an overlay, on the country's grid or the UTM zone of
// its middle. A box is straight in degrees, and slightly bent on a walking grid. own is
// what the picture's own file says, or nil; if it contradicts the overlay neither is used.
func fromOverlay(d scan.GeoData, own *Georeference) *Georeference {
	o, h := d.Overlay, d.Header
	p := &Georeference{Source: "ground overlay of " + o.File}
	if o.Problem != nil {
		p.Unknown = o.Problem.Error()
		return p
	}
	if b := o.Box; b != nil && max(b.North, -b.South) > nearPole {
		p.Unknown = fmt.Sprintf("its box reaches from latitude %g° to %g°: at the pole one edge of the picture shrinks to a point, and no walking grid covers that", b.South, b.North)
		return p
	}
	lay := newLaid(o.Overlay)
	if err := p.lay(lay, h); err != nil {
		return &Georeference{Source: p.Source, Unknown: err.Error()}
	}
	p.Notes = append(p.Notes, lay.notes...)
	if own == nil || own.System == nil {
		return p
	}
	middle := calib.PicturePt{Col: float64(h.Width) / 2, Row: float64(h.Height) / 2}
	if apart, err := apartPx(p, own, h, middle); err != nil || !(apart <= twiceApartPx) {
		return &Georeference{Source: p.Source, Unknown: fmt.Sprintf(
			"%s and the picture's own %s contradict each other, so neither is used", o.File, own.Source)}
	}
	return p
}

// laid is an overlay in units of the picture's sides: u to the right and v down, from 0
// to 1.
type laid struct {
	middle kml.LatLon
	at     func(u, v float64) kml.LatLon // of a box
	quad   *[4]kml.LatLon                // or the corners
	notes  []string
	openM  float64 // what the words of the standard leave open, metres
}

func newLaid(o kml.Overlay) *laid {
	if q := o.Quad; q != nil {
		l := &laid{quad: q}
		for _, c := range q {
			l.middle.Lat += c.Lat / 4
			l.middle.Lon += (q[0].Lon + math.Remainder(c.Lon-q[0].Lon, 360)) / 4
		}
		return l
	}
	b := *o.Box
	l := &laid{middle: kml.LatLon{Lat: (b.North + b.South) / 2, Lon: (b.East + b.West) / 2}}
	onGround := math.Cos(l.middle.Lat * math.Pi / 180) // a degree of longitude for one of latitude
	l.at = func(u, v float64) kml.LatLon { return turned(b, l.middle, onGround, u, v) }
	if b.Rotation != 0 {
		const metres = 111_000 // of a degree
		corner := l.at(0, 0)
		away := func(k float64) float64 {
			c := turned(b, l.middle, k, 0, 0)
			return metres * math.Hypot(c.Lat-corner.Lat, (c.Lon-corner.Lon)*onGround)
		}
		s := math.Sin(l.middle.Lat * math.Pi / 180)
		const e2 = 0.00669437999 // of WGS 84
		l.openM = away(onGround * (1 - e2*s*s) / (1 - e2))
		l.openM = max(l.openM, away(1)/2)   // so that 95 % holds the other way too
		if other := away(1); other >= 0.5 { // turned upside down it is the same
			l.notes = append(l.notes, fmt.Sprintf("the box is turned by %g°, and KML does not say whether on the ground or in degrees. "+
				"Here it is turned on the ground; turned in degrees, its corners would be %.0f m away", b.Rotation, other))
		}
	}
	return l
}

// turned is a position in a box that is turned counterclockwise about its middle. A degree
// of longitude is as long as k degrees of latitude.
func turned(b kml.Box, middle kml.LatLon, k, u, v float64) kml.LatLon {
	x, y := (u-0.5)*(b.East-b.West)*k, (0.5-v)*(b.North-b.South)
	sin, cos := math.Sincos(b.Rotation * math.Pi / 180)
	return kml.LatLon{Lat: middle.Lat + x*sin + y*cos, Lon: middle.Lon + (x*cos-y*sin)/k}
}

// lay puts an overlay onto the first grid that can hold it.
func (p *Georeference) lay(l *laid, h scan.Header) error {
	systems, err := geodesy.At(l.middle.Lat, math.Remainder(l.middle.Lon, 360))
	if err != nil {
		return err
	}
	for _, s := range systems {
		var g *onGrid
		if g, err = l.onto(s); err == nil {
			p.System = s
			return p.through(g, l, h)
		}
	}
	return fmt.Errorf("it covers more ground than any walking grid does: %w", err)
}

// onGrid is an overlay on a grid.
type onGrid struct {
	at    func(u, v float64) (geodesy.Grid, error)
	shift geodesy.Shift // from WGS 84
}

func (l *laid) onto(s *geodesy.System) (*onGrid, error) {
	to := func(c kml.LatLon) (geodesy.Grid, geodesy.Shift, error) {
		ll := geodesy.DegLatLon(c.Lat, math.Remainder(c.Lon, 360))
		if err := ll.Check(); err != nil {
			return geodesy.Grid{}, geodesy.Shift{}, err
		}
		g, _, shift, err := s.FromWGS84(ll)
		return g, shift, err
	}
	_, shift, err := to(l.middle)
	if err != nil {
		return nil, err
	}
	g := &onGrid{shift: shift}
	if l.quad == nil {
		g.at = func(u, v float64) (geodesy.Grid, error) {
			at, _, err := to(l.at(u, v))
			return at, err
		}
	} else {
		var q [4]geodesy.Grid
		for i, c := range l.quad {
			if q[i], _, err = to(c); err != nil {
				return nil, err
			}
		}
		g.at = throughCorners(q)
	}
	for _, c := range [][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
		if _, err := g.at(c[0], c[1]); err != nil {
			return nil, err
		}
	}
	return g, nil
}

// throughCorners takes the picture to a quadrilateral, lower left, lower right,
// upper right, upper left, so that straight lines stay straight (Heckbert,
// Fundamentals of Texture Mapping, 1989, section 2.2.3).
func throughCorners(q [4]geodesy.Grid) func(u, v float64) (geodesy.Grid, error) {
	a, b, c, d := q[3], q[2], q[1], q[0] // (0,0) (1,0) (1,1) (0,1)
	sx, sy := a.E-b.E+c.E-d.E, a.N-b.N+c.N-d.N
	dx1, dy1, dx2, dy2 := b.E-c.E, b.N-c.N, d.E-c.E, d.N-c.N
	det := dx1*dy2 - dx2*dy1
	g, k := (sx*dy2-dx2*sy)/det, (dx1*sy-sx*dy1)/det
	return func(u, v float64) (geodesy.Grid, error) {
		w := g*u + k*v + 1
		out := geodesy.Grid{
			E: ((b.E-a.E+g*b.E)*u + (d.E-a.E+k*d.E)*v + a.E) / w,
			N: ((b.N-a.N+g*b.N)*u + (d.N-a.N+k*d.N)*v + a.N) / w,
		}
		if !(w > 0) || math.IsNaN(out.E+out.N) || math.IsInf(out.E+out.N, 0) {
			return out, fmt.Errorf("its four corners do not make a quadrilateral")
		}
		return out, nil
	}
}

// through makes the georeference the affine fit to the overlay, or points if that fit is
// not close enough.
func (p *Georeference) through(g *onGrid, l *laid, h scan.Header) error {
	w, ht := float64(h.Width), float64(h.Height)
	m, err := evenFit(g, w, ht)
	if err != nil {
		return err
	}
	px := math.Sqrt(math.Abs(m[0]*m[4] - m[1]*m[3]))
	if !(px > 0) || math.IsInf(px, 0) {
		return fmt.Errorf("its corners enclose no area")
	}
	even := func(c calib.PicturePt) geodesy.Grid {
		return geodesy.Grid{E: m[0]*c.Col + m[1]*c.Row + m[2], N: m[3]*c.Col + m[4]*c.Row + m[5]}
	}
	worst, err := missing(g, even, w, ht)
	if err != nil {
		return err
	}
	p.Matrix = &m
	if worst > straightPx*px {
		if worst, err = p.bend(g, w, ht); err != nil {
			return err
		}
	}
	if l.quad != nil && p.Matrix == nil {
		p.Notes = append(p.Notes, "the file gives only the four corners of the picture: between them, straight lines are taken to stay straight")
	}
	if worst > straightPx*px {
		p.Notes = append(p.Notes, fmt.Sprintf("the calibration is up to %.1f pixels off the overlay", worst/px))
	}
	if g.shift.SigmaM > px {
		p.Notes = append(p.Notes, fmt.Sprintf("KML gives latitude and longitude, and the datum shift to the grid (%s) is only good to about %.2g m, %.1f pixels",
			g.shift.Name, g.shift.SigmaM, g.shift.SigmaM/px))
	}
	p.SigmaM = math.Sqrt(worst*worst + g.shift.SigmaM*g.shift.SigmaM + l.openM*l.openM)
	return nil
}

// evenFit is the best affine fit to the overlay, by least squares over evenly spaced
// positions, for which the normal equations separate.
func evenFit(g *onGrid, w, ht float64) (m [6]float64, err error) {
	var e, n, ue, un, ve, vn, uu float64
	err = evenly(overlayChecks, func(u, v float64) error {
		at, err := g.at(u, v)
		u, v = u-0.5, v-0.5
		e, n, uu = e+at.E, n+at.N, uu+u*u
		ue, un, ve, vn = ue+u*at.E, un+u*at.N, ve+v*at.E, vn+v*at.N
		return err
	})
	count := float64(overlayChecks * overlayChecks)
	m = [6]float64{ue / uu / w, ve / uu / ht, 0, un / uu / w, vn / uu / ht, 0}
	m[2] = e/count - (m[0]*w+m[1]*ht)/2
	m[5] = n/count - (m[3]*w+m[4]*ht)/2
	return m, err
}

// evenly calls do at side × side positions from corner to corner.
func evenly(side int, do func(u, v float64) error) error {
	for i := range side {
		for j := range side {
			if err := do(float64(j)/float64(side-1), float64(i)/float64(side-1)); err != nil {
				return err
			}
		}
	}
	return nil
}

// missing is how far a fit is off the overlay at most, in metres.
func missing(g *onGrid, fit func(calib.PicturePt) geodesy.Grid, w, ht float64) (worst float64, err error) {
	err = evenly(overlayChecks, func(u, v float64) error {
		want, err := g.at(u, v)
		got := fit(calib.PicturePt{Col: u * w, Row: v * ht})
		worst = math.Max(worst, math.Hypot(got.E-want.E, got.N-want.N))
		return err
	})
	return worst, err
}

// bend makes the georeference points all over the picture, as many as it takes, and
// returns how far the fit through them is off the overlay.
func (p *Georeference) bend(g *onGrid, w, ht float64) (worst float64, err error) {
	p.Matrix = nil
	for side := fewestPoints; side <= mostPoints; side++ {
		p.Points = nil
		err = evenly(side, func(u, v float64) error {
			at, err := g.at(u, v)
			e, n := p.System.InUnits(at)
			p.Points = append(p.Points, calib.ControlPoint{
				At: calib.PicturePt{Col: u * w, Row: v * ht}, Ref: at, Text: fmt.Sprintf("%.3f %.3f", e, n), SigmaPx: exactPx, Source: calib.FilePoint,
			})
			return err
		})
		if err != nil {
			return 0, err
		}
		c, err := p.Calibration(scan.Header{Width: int(w), Height: int(ht)})
		if err != nil {
			return 0, err
		}
		worst, err = missing(g, c.ToGrid, w, ht)
		if err != nil || worst <= straightPx*c.MetresPerPixel() {
			return worst, err
		}
	}
	return worst, nil
}
