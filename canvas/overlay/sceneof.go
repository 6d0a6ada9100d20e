package overlay

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/calib"
	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/view"
)

// Selection is what a person has chosen.
type Selection struct {
	ID      plan.ID // of a mark, leg or sight; "" for none
	Control int     // number of a control point from 1; 0 for none
}

// Options say what of a plan to draw and what is known of it already.
type Options struct {
	Grid      bool // the grid the calibration believes in
	Residuals bool // arrows at the control points
	Labels    bool // figures along legs and sights

	// PickedHere leaves out marks, legs and sights that were not picked on this sheet:
	// its own calibration would draw them, so on an unchecked sheet they would show
	// where the calibration wants a feature, not where the map has it.
	PickedHere bool

	// Sheet is the sheet to draw on; "" is the plan's first.
	Sheet plan.ID

	// Legs are the reader's rows if they were read already; if nil, SceneOf reads
	// them.
	Legs []leg.Row
	// Escapes are the plan's escapes as they were judged; without them none is drawn.
	Escapes []escape.Escape
	// Tracks are the plan's tracks if they have been made with TrackOf, which
	// may take long and may be done in the background; nil has SceneOf make
	// those of no more than quickTrack points.
	Tracks []Track
	// Lines are the grid if it was made already with GridOf; nil has SceneOf make it.
	Lines *Grid
	// Placed keeps where the calibration has the references of control points, for the
	// next scene by the same one; nil keeps nothing.
	Placed map[geodesy.Grid]view.PicPt
}

// quickTrack is the number of points that is brought onto the sheet in a few
// milliseconds.
const quickTrack = 5000

// SceneOf builds the scene of one sheet of the plan. r reads the plan; c is
// the sheet's calibration, or nil, when only what was picked on the sheet can
// be drawn. What lies on the plan's other sheets is drawn where its ground is
// on this one.
func SceneOf(p *plan.Plan, r *leg.Reader, c *calib.Calibration, sel Selection, o Options) Scene {
	sheet, ok := p.Sheet()
	if o.Sheet != "" {
		sheet, ok = p.SheetByID(o.Sheet)
	}
	if !ok {
		return Scene{}
	}
	b := builder{p: p, r: r, at: p.Positions(), sheet: sheet, c: c, sel: sel, o: o}
	if b.sys, _ = r.SystemOf(sheet.Code); b.sys == nil { // no grid named yet
		b.c = nil
	}
	b.controls()
	for _, k := range thingKinds() {
		k.build(&b)
	}
	b.ends()
	if b.c != nil {
		b.grid()
	}
	return b.out
}

type builder struct {
	p     *plan.Plan
	r     *leg.Reader
	at    plan.Positions
	sheet plan.Sheet
	c     *calib.Calibration
	sys   *geodesy.System
	sel   Selection
	o     Options
	rows  []leg.Row // of the legs
	out   Scene
}

// onSheet is where a position lies on the sheet. What was picked on it stays
// at its pixel; the rest goes by the calibration.
func (b *builder) onSheet(pos plan.Position) (view.PicPt, bool) {
	if pos.Origin == plan.Picked && pos.Sheet == b.sheet.ID {
		return view.PicPt{X: pos.At.Col, Y: pos.At.Row}, true
	}
	if b.c == nil || b.o.PickedHere {
		return view.PicPt{}, false
	}
	g, _, err := b.r.Convert(pos, b.sys)
	if err != nil { // off every map of this grid: nowhere to draw it
		return view.PicPt{}, false
	}
	return b.placed(g)
}

// placed is where ground lies by the calibration. A fit that bends is a guess
// far from its points, and has ground beyond its horizon: what it puts farther
// off the picture than the picture is large, or does not find again, is not
// drawn.
func (b *builder) placed(g geodesy.Grid) (view.PicPt, bool) {
	at := b.c.ToPicture(g)
	if b.c.Given() {
		return picPt(at), true
	}
	w, h := float64(b.sheet.Width), float64(b.sheet.Height)
	if !(at.Col >= -w && at.Col <= 2*w && at.Row >= -h && at.Row <= 2*h) {
		return view.PicPt{}, false
	}
	back := b.c.ToGrid(at)
	return picPt(at), math.Hypot(back.E-g.E, back.N-g.N) <= max(1, b.c.MetresPerPixel())
}

func picPt(p calib.PicturePt) view.PicPt { return view.PicPt{X: p.Col, Y: p.Row} }

func (b *builder) marks() {
	for _, m := range b.p.Marks {
		if at, ok := b.onSheet(m.Position); ok {
			b.out.Marks = append(b.out.Marks, Mark{ID: m.ID, At: at, Name: shortName(m.Name), Selected: m.ID == b.sel.ID})
		}
	}
}

func (b *builder) controls() {
	for i, p := range b.sheet.Points {
		at := picPt(p.At)
		b.out.Controls = append(b.out.Controls, Control{At: at, Text: p.Text, Selected: b.sel.Control == i+1})
		if b.c == nil || !b.o.Residuals {
			continue
		}
		b.out.Residuals = append(b.out.Residuals, Residual{From: at, To: b.reference(p.Ref)})
	}
}

// reference is where the calibration has the reference of a control point.
func (b *builder) reference(g geodesy.Grid) view.PicPt {
	at, ok := b.o.Placed[g]
	if !ok {
		at = picPt(b.c.ToPicture(g))
		if b.o.Placed != nil {
			b.o.Placed[g] = at
		}
	}
	return at
}

func (b *builder) legs() {
	if b.rows = b.o.Legs; b.rows == nil {
		b.rows = b.r.Legs()
	}
	for i, row := range b.rows {
		from, to, ok := b.lineOf(row)
		if !ok {
			continue
		}
		l := Leg{ID: row.ID, From: from, To: to, Selected: row.ID == b.sel.ID, Stopped: row.Err != nil || row.Reading.Stopped()}
		if row.Err == nil {
			l.LengthM, l.Label = row.Reading.GroundM, b.label(legNumber(i), row.Reading)
		}
		b.out.Legs = append(b.out.Legs, l)
	}
}

// legNumber begins the label of the leg in a row of the ledger.
func legNumber(row int) string { return fmt.Sprintf("%d: ", row+1) }

func (b *builder) sights() {
	for _, row := range b.r.Sights() {
		from, to, ok := b.lineOf(row)
		if !ok {
			continue
		}
		s := Sight{ID: row.ID, From: from, To: to, Selected: row.ID == b.sel.ID, Stopped: row.Err != nil || row.Reading.Stopped()}
		if row.Err == nil {
			s.Label = b.label("", row.Reading)
		}
		b.out.Sights = append(b.out.Sights, s)
	}
}

// ends are the letters of ends that no mark names, once where legs are joined.
func (b *builder) ends() {
	if !b.o.Labels {
		return
	}
	labels, done := b.r.Labels(), map[string]bool{}
	var all []plan.End
	for _, row := range slices.Concat(b.rows, b.r.Sights()) {
		all = append(all, row.FromEnd, row.ToEnd)
	}
	for _, e := range b.p.Escapes {
		all = append(all, e.Ends()...)
	}
	for _, e := range all {
		text := labels.Of(e)
		if at, ok := b.onSheet(b.at.Of(e)); ok && e.Mark == "" && !done[text] {
			done[text] = true
			b.out.Ends = append(b.out.Ends, End{At: at, Text: text})
		}
	}
}

func (b *builder) lineOf(row leg.Row) (from, to view.PicPt, ok bool) {
	from, ok1 := b.onSheet(b.at.Of(row.FromEnd))
	to, ok2 := b.onSheet(b.at.Of(row.ToEnd))
	return from, to, ok1 && ok2
}

// label is a leg's number, the figure to set, with its north, and the distance, each with its ±
// where that exceeds the printed step, such as "055° mag ± 2°  620 m ± 20".
// A mark goes before what nobody may walk on.
func (b *builder) label(number string, r leg.Reading) string {
	if !b.o.Labels {
		return ""
	}
	return labelOf(number, r, b.p.Party.Compass)
}

func labelOf(number string, r leg.Reading, c plan.Compass) string {
	figure := number + r.SetFigures(c)
	if r.Stopped() {
		figure = "! " + figure
	}
	return figure + "  " + units.Metres(r.GroundM, r.DistanceSigmaM)
}

func (b *builder) tracks() {
	if b.c == nil {
		return
	}
	list := b.o.Tracks
	if list == nil {
		for _, t := range b.p.Tracks {
			if !t.Hidden && len(t.Points) <= quickTrack {
				list = append(list, TrackOf(t, b.sys, b.c))
			}
		}
	}
	for _, t := range list {
		t.Selected = t.ID == b.sel.ID
		b.out.Tracks = append(b.out.Tracks, t)
	}
}

// TrackOf brings a track onto the sheet of a grid and a calibration. Points
// outside the grid's series are left out, and of a long track those that do
// not change its shape. It takes about a microsecond a point and may be called
// from any goroutine.
func TrackOf(t plan.Track, sys *geodesy.System, c *calib.Calibration) Track {
	points := make([]view.PicPt, 0, len(t.Points))
	for _, ll := range t.Points {
		if g, _, _, err := sys.FromWGS84(ll); err == nil {
			points = append(points, picPt(c.ToPicture(g)))
		}
	}
	if len(points) > plainTrack {
		points = thinned(points)
	}
	return NewTrack(t.ID, points)
}

// longestName is how many letters of a mark's name are written on the sheet.
const longestName = 30

// shortName cuts a name so that it does not run over the sheet.
func shortName(name string) string {
	if r := []rune(name); len(r) > longestName {
		return strings.TrimSpace(string(r[:longestName-1])) + "…"
	}
	return name
}
