package leg

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/ground"
	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/units"
)

// NearM is how far from a leg hazards are looked for, metres on the ground; one with a larger
// distance to keep counts as near within that.
const NearM = 500

// Met is what a way meets of what is drawn on the ground.
type Met struct {
	Near      []Near // the nearest hazard first
	Crossings []Crossing
	BogM      float64    // metres within bog
	Ground    []OnGround // parts in an area of ground or in bog, in order
	Areas     []plan.ID  // areas of ground within NearM

	HazardCautions []caution.Caution // what speaks against the way; do not write into it
}

// Danger reports whether a crag, steep ground or water is drawn near the way.
func (m Met) Danger() bool {
	return slices.ContainsFunc(m.Near, func(n Near) bool { return n.Kind.Danger() })
}

// Near is how near a way comes to a hazard, and where.
type Near struct {
	Hazard plan.ID
	Title  string
	Kind   plan.HazardKind
	DistM  float64 // on the ground, less the ± of both; 0 where they may meet
	AlongM float64 // from the start of the way, on the ground
	Ref    string  // grid reference of the position on the way
}

// Words say how near it is, behind a verb of motion: "within 12 m of crag 1", "to crag 1".
func (n Near) Words() string { return nearWords(n.DistM, n.Title) }

func nearWords(distM float64, title string) string {
	if distM < 1 {
		return "to " + title
	}
	return "within " + whole(math.Floor(distM)) + " of " + title
}

// Crossing is where a way meets water.
type Crossing struct {
	Hazard plan.ID
	Title  string
	Kind   plan.Crossing
	AlongM float64 // from the start of the way, on the ground
}

// CrossingWords say where the way crosses water by a bridge or by a step. A ford has a caution,
// and water that nobody can cross is a stop.
func (m Met) CrossingWords() (out []string) {
	how := map[plan.Crossing]string{plan.Bridge: "Bridge over", plan.StepOver: "Step over"}
	for _, c := range m.Crossings {
		if words, ok := how[c.Kind]; ok {
			out = append(out, fmt.Sprintf("%s %s, %s from the start", words, c.Title, whole(c.AlongM)))
		}
	}
	return out
}

// hazards are those of a plan, with its areas of ground, on one grid, prepared once and taken over by the next reader
// while they and the sheets stay as they are: with thousands of vertices that takes longer
// than the rest of an act.
type hazards struct {
	once  sync.Once
	sys   *geodesy.System // nil where no grid is known
	list  []hazard
	index ground.Index
	areas []area
	// areaIndex finds areas.
	areaIndex ground.Index
	// mostKeepM is the largest distance to keep from any of them, with its ±, and mostNearM the
	// largest at which one may be near.
	mostKeepM, mostNearM float64
	lost                 []caution.Caution // of hazards and areas that may be anywhere
}

type hazard struct {
	plan.Hazard
	title string
	shape ground.Shape
	vague string // why nobody knows exactly where it lies; "" for no reason
	known sureness
	keep  func() [][]geodesy.Grid // the outlines of all within the distance to keep
}

// Keep returns the outlines, on the grid of Common, of all within the distance to keep from
// a hazard of the plan, worked out when first asked for; nil where there is none.
func (r *Reader) Keep(id plan.ID) [][]geodesy.Grid {
	for _, h := range r.drawn().list {
		if h.ID == id {
			return h.keep()
		}
	}
	return nil
}

// Common returns the grid that what is drawn on the ground is compared on: that of the
// sheets, or else the first that the plan names; nil where none is known.
func (r *Reader) Common() *geodesy.System { return r.drawn().sys }

func (r *Reader) drawn() *hazards {
	r.hazards.once.Do(func() { r.hazards.prepare(r) })
	return r.hazards
}

func (d *hazards) prepare(r *Reader) {
	if d.sys = r.System(); d.sys == nil {
		if codes := r.p.Grids(); len(codes) > 0 {
			d.sys, _ = r.SystemOf(codes[0]) // legs on it give the error
		}
	}
	if d.sys == nil {
		return
	}
	for _, h := range r.p.Hazards {
		d.add(r, h)
	}
	shapes := make([]ground.Shape, len(d.list))
	for i, h := range d.list {
		shapes[i] = h.shape
	}
	d.index = ground.NewIndex(shapes)
	for _, a := range r.p.Areas {
		d.addArea(r, a)
	}
	shapes = make([]ground.Shape, len(d.areas))
	for i, a := range d.areas {
		shapes[i] = a.shape
	}
	d.areaIndex = ground.NewIndex(shapes)
}

// add prepares a hazard. One that may be anywhere speaks against every leg, one that was
// picked beyond the control points against those near it.
func (d *hazards) add(r *Reader, h plan.Hazard) {
	title := h.Title()
	points, lost, vague := d.place(r, h.Points, h.Tangled())
	if lost != "" {
		d.lost = append(d.lost, caution.Of(caution.HazardUncertain, title, lost))
	}
	if points == nil {
		return
	}
	shape := ground.Line(points)
	if h.Closed {
		shape = ground.Area(points)
	}
	known := r.surenessOf(h.Points)
	keep := sync.OnceValue(func() [][]geodesy.Grid { return shape.Around(h.KeepM) })
	d.list = append(d.list, hazard{h, title, shape, vague, known, keep})
	d.mostKeepM = max(d.mostKeepM, h.KeepM+2*known.wholeM)
	d.mostNearM = max(d.mostNearM, max(NearM, h.KeepM)+2*known.wholeM)
}

// place converts the points of what is drawn, nil where they cannot be. lost says why it may be
// anywhere, vague why it lies somewhere near there; "" for neither.
func (d *hazards) place(r *Reader, list []plan.Position, tangled bool) (points []geodesy.Grid, lost, vague string) {
	points, err := d.convert(r, list)
	if err != nil {
		lost = err.Error()
	}
	for _, pos := range list {
		for _, c := range caution.OfGrade(r.CautionsOf(pos), caution.Stop) {
			switch {
			case c.Affects&caution.Position == 0:
			case c.Code == caution.OutsidePoints:
				vague = c.Short()
			default:
				lost = c.Short()
			}
		}
	}
	if tangled {
		lost = "its outline crosses itself"
	}
	return points, lost, vague
}

// sureness is how well positions are known: the largest σ per axis among them, in metres.
type sureness struct {
	ownM   float64 // without what the sheet's calibration adds
	wholeM float64
	sheet  plan.ID // that all of them were picked on, "" for none
}

func (r *Reader) surenessOf(list []plan.Position) sureness {
	s := ownSureness(list...)
	for _, pos := range list {
		if _, p, err := r.positionOf(pos); err == nil {
			s.wholeM = max(s.wholeM, bounded(p.sigmaM()))
		}
	}
	return s
}

// ownSureness is that of positions by themselves, without a calibration.
func ownSureness(list ...plan.Position) (s sureness) {
	for i, pos := range list {
		s.ownM = max(s.ownM, pos.SigmaM)
		sheet := pos.Sheet
		if pos.Origin != plan.Picked {
			sheet = ""
		}
		if i == 0 {
			s.sheet = sheet
		} else if s.sheet != sheet {
			s.sheet = ""
		}
	}
	s.wholeM = s.ownM
	return s
}

// between is the ± (95 %) in metres of a distance between what is known so and what is known
// otherwise. What was picked on one sheet moves with it together.
func (s sureness) between(o sureness) float64 {
	if s.sheet != "" && s.sheet == o.sheet {
		return 2 * math.Hypot(s.ownM, o.ownM)
	}
	return 2 * math.Hypot(s.wholeM, o.wholeM)
}

// OnCommon converts positions to the grid of Common.
func (r *Reader) OnCommon(list ...plan.Position) ([]geodesy.Grid, error) {
	return r.drawn().convert(r, list)
}

func (d *hazards) convert(r *Reader, list []plan.Position) ([]geodesy.Grid, error) {
	out := make([]geodesy.Grid, len(list))
	for i, pos := range list {
		g, _, err := r.Convert(pos, d.sys)
		if err != nil {
			return nil, err
		}
		out[i] = g
	}
	return out, nil
}

// way is a way that is judged, on the grid of Common.
type way struct {
	points []geodesy.Grid
	scale  float64 // metres on the ground in a metre of the grid
	route  bool    // a leg of the route, which is walked when the ground is seen
	path   bool    // it follows a path, a track or a road
	known  sureness
	met    *Met
}

// Meets judges a way off, on the grid of Common, against every hazard of the plan: within the
// distance to keep it is a stop. scale is how many metres on the ground a metre of the grid
// is there; path says that the way follows a path, a track or a road; drawn are the positions that
// it was made from.
func (r *Reader) Meets(points []geodesy.Grid, scale float64, path bool, drawn ...plan.Position) Met {
	return r.meets(way{points: points, scale: scale, path: path, known: r.surenessOf(drawn)})
}

func (r *Reader) meets(w way) Met {
	d, out := r.drawn(), Met{}
	w.met = &out
	for _, x := range d.near(w) {
		h, n := x.hazard, x.Near
		out.Near = append(out.Near, n)
		if h.vague != "" {
			w.add(caution.Of(caution.HazardUncertain, h.title, h.vague))
		}
		switch spans := merged(x.spans); {
		case h.Kind == plan.Bog:
			w.bog(h, spans)
		case h.Kind == plan.Private:
			w.private(h, spans, n)
		default:
			w.danger(h, spans, n)
		}
	}
	w.onAreas(d)
	out.HazardCautions = append(out.HazardCautions, d.lost...)
	slices.SortStableFunc(out.Near, func(a, b Near) int { return cmp.Compare(a.DistM, b.DistM) })
	return out
}

// neighbour is a hazard near a way, and where.
type neighbour struct {
	*hazard
	spans []ground.Span // the parts of the way within it or on it, as drawn, in metres of the grid
	Near
}

// near are the hazards near a way, in the order of the plan.
func (d *hazards) near(w way) []neighbour {
	best, before := map[int]partNear{}, 0.0
	for a, b := range w.segments {
		for _, n := range d.index.Near(a, b, (d.mostNearM+2*w.known.wholeM)/w.scale) {
			now, ok := best[n.Shape]
			if !ok || n.DistM < now.DistM {
				now.Near, now.beforeM = n.Near, before
			}
			for _, s := range n.Spans {
				now.spans = append(now.spans, ground.Span{FromM: before + s.FromM, ToM: before + s.ToM})
			}
			best[n.Shape] = now
		}
		before += ground.Line([]geodesy.Grid{a, b}).LengthM()
	}
	var out []neighbour
	for i := range d.list {
		n, ok := best[i]
		if !ok {
			continue
		}
		if x := d.describe(&d.list[i], n, w); x.DistM <= max(NearM, x.KeepM) {
			out = append(out, x)
		}
	}
	return out
}

// partNear is where a part of a way is nearest to a hazard, how far along the way that part
// begins, in metres of the grid, and which parts of the whole way meet the hazard.
type partNear struct {
	ground.Near
	beforeM float64
	spans   []ground.Span
}

// describe says where on a way a hazard is nearest.
func (d *hazards) describe(h *hazard, n partNear, w way) neighbour {
	ref, _ := d.sys.FormatRef(n.At, refFigures) // "" off the lettered squares
	distM := max(n.DistM*w.scale-h.known.between(w.known), 0)
	return neighbour{h, n.spans, Near{h.ID, h.title, h.Kind, distM, (n.beforeM + n.AlongM) * w.scale, ref}}
}

// refFigures is how many figures the reference of a position on a leg has: 10 m.
const refFigures = 8

// merged joins spans that touch, as where a way bends within a lake. They are in order.
func merged(spans []ground.Span) []ground.Span {
	var out []ground.Span
	for _, s := range spans {
		if n := len(out); n > 0 && s.FromM <= out[n-1].ToM+touchM {
			out[n-1].ToM = max(out[n-1].ToM, s.ToM)
			continue
		}
		out = append(out, s)
	}
	return out
}

// touchM is how far apart spans may be that touch, metres: what rounding leaves between them.
const touchM = 1e-6

func (w way) bog(h *hazard, spans []ground.Span) {
	inside := 0.0
	for _, s := range spans {
		inside += s.LengthM() * w.scale
		w.on(pace.Rough, s)
	}
	if len(spans) > 0 {
		w.met.BogM += inside
		w.add(caution.Of(caution.ThroughBog, h.title, whole(inside)))
	}
}

func (w way) private(h *hazard, spans []ground.Span, n Near) {
	if len(spans) > 0 || n.DistM < h.KeepM {
		w.add(caution.Of(caution.EntersPrivate, h.title, whole(n.AlongM)))
	}
}

// danger judges a way near a crag, steep ground or water. A leg of the route may come near
// one with a note, and is a stop where it goes through. Water that can be crossed may be
// met where the way crosses it, and nowhere else.
func (w way) danger(h *hazard, spans []ground.Span, n Near) {
	crossable := h.Kind == plan.Water && h.Crosses != plan.NoCrossing
	if h.Kind == plan.Water {
		for _, s := range spans {
			w.met.Crossings = append(w.met.Crossings, Crossing{h.ID, h.title, h.Crosses, s.FromM * w.scale})
			if h.Crosses == plan.Ford {
				w.add(caution.Of(caution.CrossesFord, h.title, whole(s.FromM*w.scale)))
			}
		}
	}
	if i := slices.IndexFunc(spans, func(s ground.Span) bool { return !w.across(h, s) }); i >= 0 {
		crossable, n.AlongM = false, spans[i].FromM*w.scale
	}
	if crossable && len(spans) > 0 {
		n.DistM, n.AlongM = w.beside(h, spans)
	}
	switch args := []string{n.Words(), whole(n.AlongM)}; {
	case n.DistM >= h.KeepM && n.DistM > 0:
	case w.route && (crossable || !w.through(h, spans)):
		w.add(caution.Of(caution.PassesHazard, args...))
	default:
		w.add(caution.Of(caution.NearHazard, args...))
	}
}

// across reports whether a way that meets a hazard is on its other side after that: it neither
// follows a line nor begins or ends in an area, for longer than twice the distance to keep.
func (w way) across(h *hazard, s ground.Span) bool {
	if s.LengthM()*w.scale <= 2*h.KeepM {
		return true
	}
	return h.Closed && s.FromM > touchM && s.ToM < ground.Line(w.points).LengthM()-touchM
}

// endsM is how far within water or plantation that it leads to a leg of the route may end or begin, metres,
// as at the outflow of a lake (common practice, no source). No leg ends in a crag.
const endsM = 20

// through reports whether a way meets a hazard, water only farther than endsM from both
// its ends.
func (w way) through(h *hazard, spans []ground.Span) bool {
	if h.Kind != plan.Water {
		return len(spans) > 0
	}
	return slices.ContainsFunc(spans, w.beyondEnds)
}

// beyondEnds reports whether part of a span lies farther than endsM from both ends of the way.
func (w way) beyondEnds(s ground.Span) bool {
	length := ground.Line(w.points).LengthM()
	free := min(endsM/w.scale, length/4)
	return s.ToM > free && s.FromM < length-free
}

// beside is how near a way comes to water that it crosses, and where, without the parts
// where it does: those reach twice the distance to keep to both sides of the water.
func (w way) beside(h *hazard, spans []ground.Span) (distM, alongM float64) {
	free := 2 * h.KeepM / w.scale
	distM, before := math.Inf(1), 0.0
	for a, b := range w.segments {
		length := ground.Line([]geodesy.Grid{a, b}).LengthM()
		for _, part := range outside(before, before+length, spans, free) {
			from, to := at(a, b, (part.FromM-before)/length), at(a, b, (part.ToM-before)/length)
			n := h.shape.Nearest(from, to)
			if m := max(n.DistM*w.scale-h.known.between(w.known), 0); m < distM {
				distM, alongM = m, (part.FromM+n.AlongM)*w.scale
			}
		}
		before += length
	}
	return distM, alongM
}

// outside are the parts of a stretch that lie farther than free from all spans.
func outside(from, to float64, spans []ground.Span, free float64) []ground.Span {
	var out []ground.Span
	for _, s := range spans {
		if s.FromM-free > from {
			out = append(out, ground.Span{FromM: from, ToM: min(s.FromM-free, to)})
		}
		if from = max(from, s.ToM+free); from >= to {
			return out
		}
	}
	return append(out, ground.Span{FromM: from, ToM: to})
}

// add adds a caution.
func (w way) add(c caution.Caution) { w.met.HazardCautions = append(w.met.HazardCautions, c) }

// segments yields the straight parts of the way.
func (w way) segments(yield func(a, b geodesy.Grid) bool) {
	for i := 1; i < len(w.points); i++ {
		if !yield(w.points[i-1], w.points[i]) {
			return
		}
	}
}

// at is the position so far along the way, in metres of the grid.
func (w way) at(alongM float64) geodesy.Grid {
	rest := ground.Line(w.points).Between(alongM, math.Inf(1))
	if len(rest) == 0 { // rounding led beyond the end
		return w.points[len(w.points)-1]
	}
	return rest[0]
}

// at is the position at a share of a straight line.
func at(a, b geodesy.Grid, share float64) geodesy.Grid {
	return geodesy.Grid{E: a.E + share*(b.E-a.E), N: a.N + share*(b.N-a.N)}
}

// whole writes a length to the metre.
func whole(m float64) string { return units.Metres(m, 0) }

// Reach is how near a straight line comes to a danger.
type Reach struct {
	Hazard  plan.ID
	Title   string
	DistM   float64 // on the ground, less the ± of the danger; 0 where they may meet
	AtStart bool    // it comes nowhere nearer than at its start
}

// Words are those of Near.
func (n Reach) Words() string { return nearWords(n.DistM, n.Title) }

// Reaches reports how near the straight line from a to b comes to each danger, where that is
// within its distance to keep. Water that can be stepped over is none; a ford or bridge is
// where the leg crosses, and not elsewhere.
func (r *Reader) Reaches(a, b geodesy.Grid, scale float64) (out []Reach) {
	d := r.drawn()
	for _, n := range d.index.Beside(a, b, d.mostKeepM/scale) {
		h := &d.list[n.Shape]
		distM := max(n.DistM*scale-h.known.between(sureness{}), 0)
		if h.Kind.Danger() && h.Crosses != plan.StepOver && distM <= h.KeepM {
			out = append(out, Reach{h.ID, h.title, distM, n.StartM <= n.DistM+touchM})
		}
	}
	return out
}

// Walk is Read for a straight leg that somebody means to walk, of the route or of a way off, with
// what it meets of what is drawn on the ground: the same stops and notes as once it is kept.
func (r *Reader) Walk(from, to plan.Position, off bool) (Reading, Met, error) {
	out, err := r.Read(from, to)
	if err != nil {
		return out, Met{}, err
	}
	met := r.meetHazards(&out, from, to, off)
	return out, met, nil
}

// meetHazards judges the leg of a reading against what is drawn: its stops are stops on the
// reading.
func (r *Reader) meetHazards(x *Reading, from, to plan.Position, off bool) Met {
	if len(r.p.Hazards)+len(r.p.Areas) == 0 || r.Common() == nil {
		return Met{}
	}
	ends, err := r.OnCommon(from, to)
	if err != nil {
		return Met{} // its reading gives the error
	}
	scale := 1.0
	if length := ground.Line(ends).LengthM(); length > 0 {
		scale = x.GroundM / length
	}
	known := ownSureness(from, to)
	known.wholeM = max(known.ownM, bounded(x.FromSigmaM), bounded(x.ToSigmaM))
	met := r.meets(way{points: ends, scale: scale, route: !off, known: known})
	met.HazardCautions = append(met.HazardCautions, r.SlipsMeet(*x, ends[0], ends[1], scale, off)...)
	x.Cautions = slices.Concat(met.HazardCautions, x.Cautions)
	return met
}
