package overlay

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/view"
)

// Sketch turns positions, bearings and distances on the ground into the parts of a
// Lesson on one sheet. Make it with SketchOn. The zero Sketch draws nothing.
type Sketch struct{ b builder }

// SketchOn returns the sketch of one sheet of the reader's plan, "" for its first. It
// reports false where the sheet has no calibration or no grid.
func SketchOn(r *leg.Reader, sheet plan.ID) (Sketch, bool) {
	p := r.Plan()
	s, ok := p.Sheet()
	if sheet != "" {
		s, ok = p.SheetByID(sheet)
	}
	if !ok {
		return Sketch{}, false
	}
	c, err := r.CalibrationOf(s.ID)
	if err != nil {
		return Sketch{}, false
	}
	b := builder{p: p, r: r, at: p.Positions(), sheet: s, c: c}
	if b.sys, err = r.SystemOf(s.Code); err != nil || b.sys == nil {
		return Sketch{}, false
	}
	return Sketch{b}, true
}

// Position is where a position lies in the picture, false where it cannot be drawn.
func (k Sketch) Position(p plan.Position) (view.PicPt, bool) {
	if k.b.c == nil {
		return view.PicPt{}, false
	}
	return k.b.onSheet(p)
}

// End is where an end lies in the picture, false where it cannot be drawn.
func (k Sketch) End(e plan.End) (view.PicPt, bool) {
	if k.b.c == nil {
		return view.PicPt{}, false
	}
	return k.b.onSheet(k.b.at.Of(e))
}

// Keep are the outlines of all within the distance to keep from a hazard, those that lie on the
// sheet with all of it.
func (k Sketch) Keep(id plan.ID) [][]view.PicPt {
	if k.b.c == nil {
		return nil
	}
	return k.b.keep(id)
}

// Line is the line between two ends, nil where it cannot be drawn.
func (k Sketch) Line(from, to plan.End, label string) *LessonLine {
	a, ok1 := k.End(from)
	b, ok2 := k.End(to)
	if !ok1 || !ok2 {
		return nil
	}
	return &LessonLine{From: a, To: b, Label: label}
}

// Toward is a north by the grid bearing that it lies on.
type Toward struct {
	North   units.North
	Bearing units.GridBearing
}

// NorthsOf are the norths of a reading at its FROM: without a magnetic figure the
// magnetic one is missing.
func NorthsOf(r leg.Reading) []Toward {
	out := []Toward{{units.GridNorth, 0}}
	if r.HasMagnetic {
		out = append(out, Toward{units.MagneticNorth, units.NewGridBearing(r.Grid.Angle() - r.Magnetic.Angle())})
	}
	return append(out, Toward{units.TrueNorth, units.NewGridBearing(r.Grid.Angle() - r.True.Angle())})
}

const (
	// leastApart is how far the tips of north lines come apart at least, and mostSpread
	// how far they are spread at most.
	leastApart, mostSpread = 9 * math.Pi / 180, 60 * math.Pi / 180
	// together is how near two norths lie that are not told apart.
	together = 0.02 * math.Pi / 180
)

// Norths are north lines at a position of the picture.
func (k Sketch) Norths(at view.PicPt, norths []Toward) Norths {
	out := Norths{At: at, Times: spreadTimes(norths)}
	for _, n := range norths {
		toward, ok := k.toward(at, n.Bearing.Angle())
		spread, ok2 := k.toward(at, units.Angle(out.Times)*n.Bearing.Angle().Signed())
		if ok && ok2 {
			out.Lines = append(out.Lines, NorthLine{n.North, toward, spread})
		}
	}
	if out.Times > 1 {
		out.Note = fmt.Sprintf("angles between the norths drawn × %g", out.Times)
	}
	return out
}

// spreadTimes is the round figure by which the angles between norths are drawn larger.
func spreadTimes(norths []Toward) float64 {
	angles := make([]float64, len(norths))
	for i, n := range norths {
		angles[i] = n.Bearing.Angle().Signed().Rad()
	}
	slices.Sort(angles)
	least, most := math.Inf(1), 0.0
	for i, a := range angles {
		most = max(most, math.Abs(a))
		if i > 0 && a-angles[i-1] > together {
			least = min(least, a-angles[i-1])
		}
	}
	best := 1.0
	for _, times := range []float64{1, 2, 3, 5, 10, 20, 50} {
		if best*least >= leastApart || times*most > mostSpread {
			break
		}
		best = times
	}
	if math.IsInf(least, 1) {
		return 1
	}
	return best
}

// arcStep is the angle between the points of an arc.
const arcStep = 3 * math.Pi / 180

// Arc is the angle swept clockwise at a position from a north to a bearing of the grid.
func (k Sketch) Arc(at view.PicPt, from Toward, to units.GridBearing) Arc {
	out := Arc{At: at, North: from.North}
	sweep := (to.Angle() - from.Bearing.Angle()).Turn().Rad()
	n := int(math.Ceil(sweep/arcStep)) + 1
	for i := range n + 1 {
		toward, ok := k.toward(at, from.Bearing.Angle()+units.Angle(sweep*float64(i)/float64(n)))
		if !ok {
			return Arc{}
		}
		out.toward = append(out.toward, toward)
	}
	return out
}

// toward is one pixel of the picture from a position along a bearing of the grid.
func (k Sketch) toward(at view.PicPt, bearing units.Angle) (view.PicPt, bool) {
	if k.b.c == nil {
		return view.PicPt{}, false
	}
	to := k.along(at, bearing, k.b.c.MetresPerPixelAt(calib.PicturePt{Col: at.X, Row: at.Y}))
	long := at.Dist(to)
	return view.PicPt{X: (to.X - at.X) / long, Y: (to.Y - at.Y) / long}, long > 0 && !math.IsInf(long, 0)
}

// along is what lies so many metres of the grid from a position along a bearing.
func (k Sketch) along(at view.PicPt, bearing units.Angle, gridM float64) view.PicPt {
	g := k.grid(at)
	sin, cos := math.Sincos(bearing.Rad())
	return picPt(k.b.c.ToPicture(geodesy.Grid{E: g.E + gridM*sin, N: g.N + gridM*cos}))
}

func (k Sketch) grid(at view.PicPt) geodesy.Grid {
	return k.b.c.ToGrid(calib.PicturePt{Col: at.X, Row: at.Y})
}
