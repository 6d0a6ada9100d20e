package session

import (
	"errors"
	"math"
	"slices"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/pace"
	"legwright/app/plan"
)

// latLons are positions on the sheet of the tests, at these columns and rows.
func (a acted) latLons(colRow ...float64) (out []geodesy.LatLon) {
	for i := 0; i+1 < len(colRow); i += 2 {
		ll, _, err := a.Reader().System().ToWGS84(a.at(colRow[i], colRow[i+1]).Grid)
		must(a.t, err)
		out = append(out, ll)
	}
	return out
}

// Shapes become what the person says that they are, with the usual distance to keep; what
// cannot be is left out and counted; a second import adds nothing.
func TestImportOfShapes(t *testing.T) {
	t.Parallel()
	a := ready(t)
	before := a.Plan()
	square := a.latLons(100, 100, 200, 100, 200, 200, 100, 200)
	in := Imported{Name: "ground.geojson", Shapes: []ImportedShape{
		{Name: "Black Face", Area: true, Points: square, As: ShapeAs{Hazard: plan.Crag}, Crosses: plan.Bridge},
		{Name: "Burn", Points: square[:2], As: ShapeAs{Hazard: plan.Water}, Crosses: plan.Ford},
		{Name: "Loch", Points: square[2:], As: ShapeAs{Hazard: plan.Water}, Crosses: "ferry"},
		{Name: "Road", Points: square[1:3], As: ShapeAs{Haven: plan.RoadHaven}},
		{Name: "Hut", Points: square[:1], As: ShapeAs{Haven: plan.OpenShelter}},
		{Points: square[2:], As: ShapeAs{Line: plan.WallLine}},
		{Name: "Forest", Area: true, Points: square, As: ShapeAs{Ground: pace.Plantation}},
		{Name: "bow tie of heather", Area: true, Points: a.latLons(100, 100, 200, 200, 200, 100, 100, 200), As: ShapeAs{Ground: pace.Rough}},
		{Name: "bow tie", Area: true, Points: a.latLons(100, 100, 200, 200, 200, 100, 100, 200), As: ShapeAs{Hazard: plan.Bog}},
		{Name: "dot", Points: square[:1], As: ShapeAs{Line: plan.PathLine}},
	}}
	report, err := importInto(a.Session, in)
	must(t, err)
	if want := (ImportReport{Name: "ground.geojson", Hazards: 3, Havens: 2, Lines: 1, Areas: 1, Crossings: 1, LeftOut: 3}); report != want {
		t.Errorf("report %+v, want %+v", report, want)
	}
	p := a.Plan()
	came := p.Hazards[len(p.Hazards)-3:]
	crag := came[0]
	if crag.Name != "Black Face" || crag.KeepM != 50 || !crag.Closed || len(crag.Points) != 4 || crag.Import != "ground.geojson" {
		t.Errorf("the crag %+v", crag)
	}
	if came[0].Crosses != plan.NoCrossing || came[1].Crosses != plan.Ford || came[2].Crosses != plan.NoCrossing {
		t.Errorf("crossings %q, %q and %q: only the burn has a known one", came[0].Crosses, came[1].Crosses, came[2].Crosses)
	}
	if d := math.Hypot(crag.Points[2].Grid.E-a.at(200, 200).Grid.E, crag.Points[2].Grid.N-a.at(200, 200).Grid.N); d > 0.01 || crag.Points[2].SigmaM < ImportSigmaM {
		t.Errorf("a corner is %v m off, σ %v m", d, crag.Points[2].SigmaM)
	}
	if wood := p.Areas[len(p.Areas)-1]; wood.Name != "Forest" || wood.Ground != pace.Plantation || len(wood.Points) != 4 || wood.Import != "ground.geojson" {
		t.Errorf("the plantation %+v", wood)
	}
	if haven := p.Havens[len(p.Havens)-1]; haven.Out.Known {
		t.Errorf("a way out that nobody gave: %+v", haven.Out)
	}
	if report, err = importInto(a.Session, in); err != nil || report.Known != 7 || a.Plan() != p {
		t.Errorf("again: %+v, %v", report, err)
	}
	for i, x := range in.Shapes {
		turned := slices.Clone(x.Points)
		slices.Reverse(turned[1:])
		in.Shapes[i].Points = turned
	}
	if report, err = importInto(a.Session, in); err != nil || report.Known != 7 || a.Plan() != p {
		t.Errorf("with outlines the other way round: %+v, %v", report, err)
	}
	must(t, a.RemoveImport("ground.geojson"))
	if q := a.Plan(); len(q.Hazards) != len(before.Hazards) || len(q.Havens) != len(before.Havens) || len(q.Lines) != len(before.Lines) || len(q.Areas) != len(before.Areas) {
		t.Error("the import is not taken back whole")
	}
}

// A track of hundreds of points becomes a line of few that strays at most as far as the
// receiver; the track stays.
func TestUseTrack(t *testing.T) {
	t.Parallel()
	a := ready(t)
	var at []float64
	for i := range 300 {
		at = append(at, 100+float64(i), 300+0.2*math.Sin(float64(i))) // ± 1 m
	}
	for i := range 300 {
		at = append(at, 400, 300+float64(i))
	}
	_, err := importInto(a.Session, Imported{Name: "walk.gpx", Tracks: []plan.Track{{Name: "Wall walked", Points: a.latLons(at...)}}})
	must(t, err)
	track := a.Plan().Tracks[0]
	must(t, a.UseTrack(track.ID, ShapeAs{Line: plan.WallLine}, false))
	l := a.Plan().Lines[len(a.Plan().Lines)-1]
	if n := len(l.Points); n != 3 || l.Name != "Wall walked" || l.Kind != plan.WallLine || a.Selection().ID != l.ID || len(a.Plan().Tracks) != 1 {
		t.Errorf("%d points: %+v", n, l)
	}
	var refused *Refused
	if err := a.UseTrack(track.ID, ShapeAs{Line: plan.WallLine}, false); !errors.As(err, &refused) {
		t.Errorf("twice: %v", err)
	}
	must(t, a.UseTrack(track.ID, ShapeAs{Hazard: plan.Private}, true))
	if h := a.Plan().Hazards[len(a.Plan().Hazards)-1]; !h.Closed || len(h.Points) != 3 {
		t.Errorf("as an area: %+v", h)
	}
	must(t, a.UseTrack(track.ID, ShapeAs{Ground: pace.Rough}, false))
	if r := a.Plan().Areas[len(a.Plan().Areas)-1]; r.Ground != pace.Rough || len(r.Points) != 3 || a.Selection().ID != r.ID {
		t.Errorf("as an area of ground: %+v", r)
	}
	if err := a.UseTrack("track-9", ShapeAs{Line: plan.WallLine}, false); err == nil {
		t.Error("no such track")
	}
}

// Steep areas come in as one act, keep one spacing of the posts off, and come in once.
func TestAddSteep(t *testing.T) {
	t.Parallel()
	a := ready(t)
	before := a.Plan()
	stairs := func(e float64) (out []geodesy.Grid) {
		at := geodesy.Grid{E: 52_000 + e, N: 795_000}
		out = append(out, at)
		for range 10 { // up to the north-east in steps of 30 m, and straight back
			at.E += 30
			out = append(out, at)
			at.N += 30
			out = append(out, at)
		}
		return append(out, geodesy.Grid{E: 52_000 + e, N: at.N})
	}
	holed := []geodesy.Grid{{}, {E: 300}, {E: 300, N: 300}, {E: 121.6, N: 300}, {E: 121.6, N: 200}, {E: 200, N: 200}, {E: 200, N: 100}, {E: 100, N: 100}, {E: 100, N: 200}, {E: 121, N: 200}, {E: 121, N: 300}, {N: 300}}
	if thin := SteepOutline(holed, 30); len(thin) >= len(holed) || !slices.Equal(thin[3:5], holed[3:5]) || !slices.Contains(thin, holed[9]) || !slices.Contains(thin, holed[10]) {
		t.Errorf("the slit to a hole is another one in %v", thin)
	}
	n, err := a.AddSteep([][]geodesy.Grid{stairs(0), stairs(2000)}, 30)
	must(t, err)
	p := a.Plan()
	if n != 2 || len(p.Hazards) != len(before.Hazards)+2 {
		t.Fatalf("%d added, %d hazards", n, len(p.Hazards))
	}
	h := p.Hazards[len(p.Hazards)-1]
	if h.Kind != plan.Steep || !h.Closed || h.KeepM != 30 || len(h.Points) > 5 || h.Import == "" {
		t.Errorf("the hazard %+v", h)
	}
	if n, err = a.AddSteep([][]geodesy.Grid{stairs(0)}, 30); n != 0 || err != nil || a.Plan() != p {
		t.Errorf("again: %d added, %v", n, err)
	}
	part := stairs(0)[:12] // what another view shows of it, half a cell off
	for i := range part {
		part[i].E, part[i].N = part[i].E+15, part[i].N+10
	}
	beyond := stairs(60) // a corner of it lies 60 m outside
	if n, err = a.AddSteep([][]geodesy.Grid{part, beyond}, 30); n != 1 || err != nil {
		t.Errorf("a part of it and one beyond it: %d added, %v", n, err)
	}
	a.Undo()
	a.Undo()
	if a.Plan() != before {
		t.Error("it is not one step")
	}
}
