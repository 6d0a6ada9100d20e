package session

import (
	"fmt"
	"slices"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/ground"
	"legwright/app/pace"
	"legwright/app/plan"
)

// ShapeAs says what a line, an area or a point that comes from elsewhere is. One of its
// kinds is set.
type ShapeAs struct {
	Hazard plan.HazardKind
	Haven  plan.HavenKind
	Line   plan.LineKind
	Ground pace.Ground // of an area
}

// String says it for people, such as "Hazard: crag".
func (a ShapeAs) String() string {
	switch {
	case a.Hazard != "":
		return "Hazard: " + a.Hazard.String()
	case a.Haven != "":
		return "Haven: " + a.Haven.String()
	case a.Ground != "":
		return "Ground: " + a.Ground.String()
	}
	return "Line: " + a.Line.String()
}

// AreasAs lists what an area can be.
func AreasAs() []ShapeAs { return append(hazardsAs(), groundsAs()...) }

func hazardsAs() (out []ShapeAs) {
	for _, k := range plan.HazardKinds() {
		out = append(out, ShapeAs{Hazard: k})
	}
	return out
}

func groundsAs() (out []ShapeAs) {
	for _, g := range plan.AreaGrounds() {
		out = append(out, ShapeAs{Ground: g})
	}
	return out
}

// PointsAs lists what a point can be, beside a mark.
func PointsAs() (out []ShapeAs) {
	for _, k := range plan.HavenKinds() {
		out = append(out, ShapeAs{Haven: k})
	}
	return out
}

// TracksAs lists what a track can be, which may go around an area.
func TracksAs() []ShapeAs { return append(LinesAs(), groundsAs()...) }

// LinesAs lists what a line can be.
func LinesAs() (out []ShapeAs) {
	for _, k := range plan.LineKinds() {
		out = append(out, ShapeAs{Line: k})
	}
	return append(append(out, PointsAs()...), hazardsAs()...)
}

// ImportedShape is a line, an area or a point of an exchange file, with what the person, or the
// file of another plan, says that it is.
type ImportedShape struct {
	Name, Note string
	Area       bool
	Points     []geodesy.LatLon // WGS 84
	As         ShapeAs
	Crosses    plan.Crossing     // of water; one that is not known counts as none
	KeepM      float64           // the least distance to keep from a hazard, where it is more than the usual one
	Cautions   []caution.Caution // what the file says against its positions
}

// least is how many points it needs.
func (x ImportedShape) least() int {
	switch {
	case x.As.Haven != "":
		return 1
	case x.Area:
		return 3
	}
	return 2
}

// shape adds a hazard, a haven, a line or an area, unless it is there already. One with too few
// points, or whose outline crosses itself, is left out.
func (b *importer) shape(in ImportedShape) error {
	points := make([]plan.Position, len(in.Points))
	for i, at := range in.Points {
		pos, err := b.position(ImportedPoint{At: at, Cautions: in.Cautions})
		if err != nil {
			return fmt.Errorf("%q: %w", in.Name, err)
		}
		points[i] = pos
	}
	b.drawShape(in, apart(points, in.Area))
	return nil
}

func (b *importer) drawShape(in ImportedShape, points []plan.Position) {
	p, name, note := b.drawn, shorten(tidy(in.Name)), tidyNote(in.Note)
	keep := max(in.KeepM, in.As.Hazard.DefaultKeepM(b.postM))
	h := plan.Hazard{ID: p.NextID(plan.OfHazard), Name: name, Note: note, Kind: in.As.Hazard, Closed: in.Area, Points: points, KeepM: keep, Import: b.report.Name}
	if h.Kind == plan.Water && slices.Contains(plan.Crossings(), in.Crosses) {
		h.Crosses = in.Crosses
	}
	a := plan.Area{ID: p.NextID(plan.OfArea), Name: name, Note: note, Ground: in.As.Ground, Points: points, Import: b.report.Name}
	switch {
	case len(points) < in.least(), in.As.Hazard != "" && h.Tangled(), in.As.Ground != "" && a.Tangled():
		b.report.LeftOut++
	case b.hasShape(in.As, points):
		b.report.Known++
	case in.As.Hazard != "":
		b.drawn = p.AddHazard(h)
		b.report.Hazards++
		if h.Crosses != plan.NoCrossing {
			b.report.Crossings++
		}
	case in.As.Haven != "":
		b.drawn = p.AddHaven(plan.Haven{ID: p.NextID(plan.OfHaven), Name: name, Note: note, Kind: in.As.Haven, Points: points, Import: b.report.Name})
		b.report.Havens++
	case in.As.Ground != "":
		b.drawn = p.AddArea(a)
		b.report.Areas++
	default:
		b.drawn = p.AddLine(plan.Line{ID: p.NextID(plan.OfLine), Name: name, Note: note, Kind: in.As.Line, Points: points, Import: b.report.Name})
		b.report.Lines++
	}
}

// hasShape reports whether the plan has a shape of that kind through these points.
func (b *importer) hasShape(as ShapeAs, points []plan.Position) bool {
	other := slices.Clone(points) // an outline the other way round, as GeoJSON turns it
	if len(other) > 0 {
		slices.Reverse(other[1:])
	}
	same := func(list []plan.Position, closed bool) bool {
		return slices.EqualFunc(list, points, sameSpot) || closed && slices.EqualFunc(list, other, sameSpot)
	}
	for _, h := range b.of.Hazards {
		if h.Kind == as.Hazard && same(h.Points, h.Closed) {
			return true
		}
	}
	for _, h := range b.of.Havens {
		if h.Kind == as.Haven && same(h.Points, false) {
			return true
		}
	}
	for _, l := range b.of.Lines {
		if l.Kind == as.Line && same(l.Points, false) {
			return true
		}
	}
	for _, a := range b.of.Areas {
		if a.Ground == as.Ground && same(a.Points, true) {
			return true
		}
	}
	return false
}

// trackSlackM is how far a line may stray from the track that it was made of, in metres:
// as far as the receiver did (common practice, no source).
const trackSlackM = ImportSigmaM

// UseTrack makes a hazard, a haven, a line or an area of ground of a track and selects it. area
// says that a hazard lies within the track. Of the points of the track only those stay that keep its
// shape. The track stays too. The error is a *Refused, or that of a position that cannot be computed.
func (s *Session) UseTrack(id plan.ID, as ShapeAs, area bool) error {
	t, ok := s.Plan().TrackByID(id)
	if !ok {
		return &NotFound{"track", id}
	}
	area = area || as.Ground != ""
	in := ImportedShape{Name: t.Name, Area: area, Points: t.Points, As: as}
	sys, err := s.importSystem(Imported{Tracks: []plan.Track{t}})
	if err != nil {
		return err
	}
	points, err := s.thinned(t, sys)
	if err != nil {
		return err
	}
	b := newImporter(s.Plan(), sys, "")
	b.postM, b.report.Name = s.postM(), t.Import
	b.drawShape(in, apart(points, area))
	if b.report.LeftOut > 0 {
		return refuse("this track cannot be used for that: its outline crosses itself, or it has fewer than %d points", in.least())
	}
	next := b.drawn
	switch n := len(next.Hazards); {
	case b.report.Hazards > 0:
		return s.add("use track", next.Hazards[n-1].ID, next)
	case b.report.Havens > 0:
		return s.add("use track", next.Havens[len(next.Havens)-1].ID, next)
	case b.report.Lines > 0:
		return s.add("use track", next.Lines[len(next.Lines)-1].ID, next)
	case b.report.Areas > 0:
		return s.add("use track", next.Areas[len(next.Areas)-1].ID, next)
	}
	return refuse("the plan already contains this shape")
}

// thinned returns the positions of a track without those that do not change its shape.
func (s *Session) thinned(t plan.Track, sys *geodesy.System) ([]plan.Position, error) {
	grids := make([]geodesy.Grid, len(t.Points))
	for i, ll := range t.Points {
		g, _, _, err := sys.FromWGS84(ll)
		if err != nil {
			return nil, err
		}
		grids[i] = g
	}
	var out []plan.Position
	for _, g := range ground.Thinned(grids, trackSlackM) {
		out = append(out, plan.ImportedAt(sys.Code(), g, ImportSigmaM))
	}
	return out, nil
}

// postM is how far apart the posts of the plan's terrain stand, 0 without terrain.
func (s *Session) postM() float64 {
	m, _ := s.Ground()
	return m.SpacingM()
}

// AddSteep adds areas that the terrain shows as over-steep as hazards, as one act, with the
// usual distance to keep. cellM is the side of the cells that they were made of, metres; an
// outline loses at most so much of it as the distance to keep makes up for. It returns how
// many were added: those that the plan has already are not, see SteepNew.
func (s *Session) AddSteep(outlines [][]geodesy.Grid, cellM float64) (added int, err error) {
	sys := s.Reader().System()
	if sys == nil {
		return 0, plan.ErrUncalibrated
	}
	b := newImporter(s.Plan(), sys, "over-steep ground")
	b.postM = max(s.postM(), cellM)
	for _, o := range s.SteepNew(outlines, cellM) {
		var points []plan.Position
		for _, g := range SteepOutline(o, cellM) {
			points = append(points, plan.ImportedAt(sys.Code(), g, cellM/2))
		}
		b.drawShape(ImportedShape{Area: true, As: ShapeAs{Hazard: plan.Steep}}, points)
	}
	if b.report.Hazards == 0 {
		return 0, nil
	}
	return b.report.Hazards, s.do("add steep ground", "", b.drawn)
}

// SteepNew returns those of the outlines of steep ground that do not lie within steep ground of the
// plan, see AddSteep.
func (s *Session) SteepNew(outlines [][]geodesy.Grid, cellM float64) (out [][]geodesy.Grid) {
	kept := s.steepKept(cellM)
	for _, o := range outlines {
		if !kept.Holds(ground.Area(SteepOutline(o, cellM))) {
			out = append(out, o)
		}
	}
	return out
}

// steepKept is the steep ground that the plan has, with what smoothing moves outlines of cells of
// cellM metres, less than a cell: ground that is steep by another limit still sticks out. It reaches
// at most as far as the distance to keep, into which no leg may come anyway.
func (s *Session) steepKept(cellM float64) (out ground.Cover) {
	r := s.Reader()
	for _, h := range s.Plan().Hazards {
		if h.Kind != plan.Steep || !h.Closed || h.Tangled() {
			continue
		}
		if points, err := r.OnCommon(h.Points...); err == nil {
			out.Add(ground.Area(points), min(steepSlack*cellM, h.KeepM))
		}
	}
	return out
}

// steepSlack is how many cells smoothing may move an outline: a stair deviates by 0.71 of its cell.
const steepSlack = 0.75

// SteepOutline is an outline along cells of cellM metres as AddSteep adds it: its stairs smoothed
// to slants where that does not tangle it. Slits that lead to its holes stay as narrow as they are.
func SteepOutline(outline []geodesy.Grid, cellM float64) []geodesy.Grid {
	thin := ground.ThinnedOutline(outline, steepSlack*cellM)
	if len(thin) < 3 || ground.Tangled(thin) {
		return outline
	}
	return thin
}
