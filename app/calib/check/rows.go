package check

import (
	"cmp"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/calib/slips"
	"legwright/app/geodesy"
)

// row is evidence as it enters the judge.
type row struct {
	*Evidence
	point   calib.ControlPoint
	other   *geodesy.Grid // what the reference means on the other datum
	own     bool          // on the grid's own datum
	ownGrid bool          // read off the map's own lines
	named   bool          // speaks of the zone and the hemisphere
	ofGrid  bool          // speaks of the grid's projection
	through *Verdict      // FromSheet: of the sheet it rests on
}

// samePlacePx is how near an intersection a feature counts as that intersection: as
// near as a loose click.
const samePlacePx = 10

// probes is how many positions along each side of the picture a sheet is looked at.
const probes = 7

// held is one sheet with its evidence, taken on one datum.
type held struct {
	t       *table
	s       *Sheet
	list    *slips.Sheet
	rows    []row
	weighs  *slips.Judged
	judge   *calib.Judge // points and evidence
	shows   *calib.Judge // points and evidence but for unnamed lines: what shows slips
	alone   *calib.Judge // points alone
	probed  []slips.Point
	heights heights
	waits   []string // names of unchecked sheets that evidence rests on
}

// weigh checks a sheet's evidence against it: margins on WGS 84 first, then on the
// grid's own datum where that agrees and WGS 84 does not.
func (t *table) weigh(s *Sheet) *held {
	first := t.prepare(s, false)
	if first.agrees() || !slices.ContainsFunc(first.rows, func(r row) bool { return r.other != nil }) {
		first.hold()
		return first
	}
	second := t.prepare(s, true)
	if !second.agrees() && second.miss() > first.miss() {
		second = first
	}
	second.hold()
	return second
}

// prepare makes the rows of evidence, with margins on WGS 84 or on the grid's own
// datum.
func (t *table) prepare(s *Sheet, own bool) *held {
	c := &held{t: t, s: s, probed: probesOf(s)}
	points := s.Fit.Points()
	c.list = &slips.Sheet{Points: points, Coords: s.Coords, Unit: s.Unit, ExtentM: float64(max(s.Width, s.Height)) * s.Fit.MetresPerPixel()}
	step, _ := c.list.Steps()
	for i := range s.Evidence {
		if r, ok := c.row(&s.Evidence[i], own, step); ok {
			c.rows = append(c.rows, r)
		}
	}
	slices.SortStableFunc(c.rows, func(a, b row) int { return cmp.Compare(a.SquareM, b.SquareM) })
	var extra []calib.ControlPoint
	for k, r := range c.rows {
		extra = append(extra, r.point)
		if r.ownGrid && r.SquareM == 0 {
			c.list.OwnGrid = append(c.list.OwnGrid, k)
		}
		if r.Unlettered {
			c.list.Unlettered = append(c.list.Unlettered, k)
		}
	}
	c.judge = s.Fit.Judge(extra)
	c.alone, c.shows = c.judge, c.judge
	if len(c.rows) > 0 {
		c.alone = s.Fit.Judge(nil)
	}
	if known := c.knownRows(); known < len(c.rows) {
		c.shows = s.Fit.Judge(extra[:known])
	}
	return c
}

// knownRows is how many rows have a reference of their own: unnamed lines, whose
// reference is the nearest multiple of a square, follow a slip to the next multiple and
// so show none. They come last.
func (c *held) knownRows() int {
	n := slices.IndexFunc(c.rows, func(r row) bool { return r.SquareM > 0 })
	if n < 0 {
		return len(c.rows)
	}
	return n
}

// row is one piece of evidence, false where it does not count.
func (c *held) row(e *Evidence, own bool, step float64) (row, bool) {
	r := row{Evidence: e, point: e.Point(), named: e.LatLon || e.Zone}
	switch {
	case e.SquareM > 0:
		g := c.s.Fit.ToGrid(e.At)
		r.point.Ref = geodesy.Grid{E: nearest(g.E, e.Ref.E, e.SquareM), N: nearest(g.N, e.Ref.N, e.SquareM)}
		r.ownGrid = true
		return r, r.point.Ref.IsFinite()
	case e.Source == calib.FromTerrain:
		return r, false // a height, which has no reference; see heights
	case e.Source == calib.FromSheet:
		return c.through(r)
	case len(e.Meanings) == 0 || e.Source == calib.FromFile && c.s.ByFile:
		return r, false // one file may be as wrong as another that it was made from
	}
	at := 0
	if own && len(e.Meanings) > 1 {
		at = 1
	}
	r.point.Ref, r.point.SigmaRefM, r.own = e.Meanings[at].Ref, e.Meanings[at].SigmaM, e.Meanings[at].Own
	if len(e.Meanings) > 1 {
		r.other = &e.Meanings[1-at].Ref
	}
	r.ownGrid = c.readOffOwnGrid(e, step)
	r.named = r.named || e.Source == calib.FromFile && !r.ownGrid
	r.ofGrid = r.named || e.Letters && !c.s.ByFile || e.Source == calib.FromReceiver
	return r, true
}

func nearest(v, origin, step float64) float64 { return origin + step*math.Round((v-origin)/step) }

// readOffOwnGrid reports whether a reference shares the slips of the control points:
// it was read off the same lines, or it is an intersection of them, whatever its
// source says. Latitude and longitude of a margin do so where control points were
// made from them.
func (c *held) readOffOwnGrid(e *Evidence, step float64) bool {
	switch {
	case e.Source == calib.FromOwnGrid || e.Source == calib.FromMargin && !e.LatLon:
		return true
	case e.Source == calib.FromMargin:
		return slices.ContainsFunc(c.s.Coords, func(x slips.Coords) bool { return x.LatLon })
	case e.LatLon || step == 0:
		return false
	}
	lines := math.Min(step, closeLines) * c.unitM()
	on := math.Max(0.5, math.Min(samePlacePx*c.s.Fit.MetresPerPixel(), lines/10))
	return math.Abs(math.Remainder(e.Corner.E, lines)) <= on && math.Abs(math.Remainder(e.Corner.N, lines)) <= on
}

// closeLines is how far apart the lines of a map may be although all its control points
// lie on coarser ones, such as every fifth, in the grid's unit (common practice, no
// source).
const closeLines = 1000

// unitM is the unit of the typed eastings and northings in metres.
func (c *held) unitM() float64 {
	for _, x := range c.s.Coords {
		if !x.LatLon {
			return math.Hypot(x.PerU[0], x.PerU[1])
		}
	}
	return 1
}

// through is evidence by the same feature on another sheet.
func (c *held) through(r row) (row, bool) {
	from, v := c.t.byID(r.Sheet), c.t.checked[r.Sheet]
	switch {
	case from == nil || from.Fit == nil || from.ID == c.s.ID:
		return r, false
	case v == nil:
		c.waits = append(c.waits, from.Name)
		return r, false
	}
	if ok, _ := from.Fit.Trusted(r.SheetAt); !ok {
		return r, false
	}
	cov := from.Fit.Covariance(r.SheetAt, r.SheetSigmaPx)
	r.point.Ref, r.point.SigmaRefM = from.Fit.ToGrid(r.SheetAt), math.Sqrt(math.Max(cov.EE, cov.NN))
	r.named, r.ofGrid, r.through = true, true, v
	return r, true
}

// probesOf returns the trusted points of a sheet that slips may harm.
func probesOf(s *Sheet) []slips.Point {
	var out []slips.Point
	for i := range probes {
		for j := range probes {
			at := calib.PicturePt{Col: float64(s.Width) * (float64(i) + 0.5) / probes, Row: float64(s.Height) * (float64(j) + 0.5) / probes}
			if ok, _ := s.Fit.Trusted(at); ok {
				out = append(out, slips.Point{At: at, WidthM: s.Fit.HalfWidth95M(at)})
			}
		}
	}
	if len(out) == 0 { // nothing is trusted, or the picture's size is not known
		for _, p := range s.Fit.Points() {
			out = append(out, slips.Point{At: p.At, WidthM: s.Fit.HalfWidth95M(p.At)})
		}
	}
	return out
}
