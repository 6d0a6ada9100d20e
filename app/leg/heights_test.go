package leg

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// TestHeightsOfARoute: over a ridge the climb and descent of each leg come from the terrain, a leg that leaves
// it has none and says so, and a plan without terrain says nothing.
func TestHeightsOfARoute(t *testing.T) {
	t.Parallel()
	tile := &terrain.Tile{
		Name: "ridge", System: system(t, 27700), NorthWest: geodesy.Grid{E: 227000, N: 746000}, StepE: 25, StepN: 25, Cols: 121, Rows: 121, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		tile.Heights = append(tile.Heights, float32(500-0.2*math.Abs(25*float64(i%tile.Cols)-1500)))
	}
	model, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28})
	for i, ends := range [][2]float64{{227500, 228500}, {228500, 229500}, {229500, 231000}} {
		p = p.AddLeg(plan.Leg{
			ID:   plan.ID(string(rune('a' + i))),
			From: plan.AtPosition(typed(27700, ends[0], 744500)), To: plan.AtPosition(typed(27700, ends[1], 744500)),
		})
	}
	if row := readerOf(t, p).Legs()[0]; row.ClimbKnown() || row.HasEnd || row.HeightCautions != nil {
		t.Errorf("without terrain: got %+v", row.Heights)
	}
	p = p.SetTerrain([]plan.Terrain{{Path: "ridge.asc", SHA256: strings.Repeat("a", 64)}})
	before := readerOf(t, p)
	if row := before.Legs()[0]; !caution.Has(row.HeightCautions, caution.NoTerrain) {
		t.Errorf("terrain not read: got %v, want a caution", row.HeightCautions)
	}
	r := before.Over(model)
	if r.Over(model) != r || before.Over(nil) != before {
		t.Error("the same ground makes another reader")
	}
	rows := r.Legs()
	for i, want := range []struct{ up, down, end float64 }{{200, 0, 500}, {0, 200, 300}} {
		h := rows[i].Heights
		if math.Abs(h.Climb.M-want.up) > 0.5 || math.Abs(h.Descent.M-want.down) > 0.5 || math.Abs(h.EndM-want.end) > 0.1 || !h.HasEnd || !h.ClimbKnown() {
			t.Errorf("leg %d: got %+v up, %+v down, end %g, want %+v", i+1, h.Climb, h.Descent, h.EndM, want)
		}
	}
	if h := rows[2].Heights; h.ClimbKnown() || h.HasEnd || !caution.Has(h.HeightCautions, caution.NoTerrain) {
		t.Errorf("leg that leaves the terrain: got %+v", h)
	}
	after, err := r.For(p.SetTitle("Ridge"))
	if err != nil || after.Model() != model || !after.Legs()[0].ClimbKnown() {
		t.Errorf("after an edit: got %v, %v, want the same ground", after.Model(), err)
	}
	if gone := after.Over(nil).Legs()[0]; gone.ClimbKnown() {
		t.Errorf("without the model: got %+v", gone.Heights)
	}
}

// A leg along a brow that falls away below it is marked convex with where that begins, and what
// lower than 2 × 25 m × tan 20° = 18.2, so 20 m, does not show stands at every leg over terrain
// and once in an export. The brow is level, then 5°, then 30°.
func TestConvexGroundBelowALeg(t *testing.T) {
	t.Parallel()
	tile := &terrain.Tile{
		Name: "brow", System: system(t, 27700), NorthWest: geodesy.Grid{E: 227000, N: 746000}, StepE: 25, StepN: 25, Cols: 121, Rows: 121, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		e := 25*float64(i%tile.Cols) - 1500 // metres east of the brow
		tile.Heights = append(tile.Heights, float32(500-0.0875*max(e, -600)-0.49*max(e, 0)))
	}
	model, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28}).SetTerrain([]plan.Terrain{{Path: "brow.asc", SHA256: strings.Repeat("a", 64)}})
	for i, e := range [][2]float64{{228450, 228450}, {227900, 228475}, {227300, 227700}} {
		p = p.AddLeg(plan.Leg{
			ID:   plan.ID(string(rune('a' + i))),
			From: plan.AtPosition(typed(27700, e[0], 744500)), To: plan.AtPosition(typed(27700, e[1], 744000)),
		})
	}
	rows := readerOf(t, p).Over(model).Legs()
	for i, want := range []string{"from the start of the leg", "from 610 m into the leg", ""} {
		got := ""
		for _, c := range rows[i].HeightCautions {
			if c.Code == caution.ConvexGround {
				got = c.Args[0]
			}
		}
		if got != want {
			t.Errorf("leg %d is convex %q, want %q", i+1, got, want)
		}
		if blind := caution.Of(caution.BlindTerrain, "20 m"); !slices.Contains(rows[i].HeightCautions, blind) {
			t.Errorf("leg %d: %v, want %v", i+1, rows[i].HeightCautions, blind)
		}
	}
	x, err := Export(p, model)
	if err != nil || !caution.Has(x.Cautions, caution.BlindTerrain) {
		t.Fatalf("the export says %v of the whole, %v", x.Cautions, err)
	}
	first := x.Routes[0][0].Desc
	if !strings.Contains(first, "Convex, from the start of the leg: ") || strings.Contains(first, "Crags lower") {
		t.Errorf("the leg in the export says %q", first)
	}
}

// A leg of the route over over-steep ground is a note that says where that begins and how steep it is
// at most, whoever chose the slope that counts. The ground is level, then falls at 0.45, 24.2°, from
// 400 m east and at 0.6, 31.0°, from 800 m: with posts 25 m apart 20° counts. Under Horn's kernel a
// bend begins one post before it, with half of the fall beyond: from level to 0.45 it is 12.7° at the
// bend, and 20°, a fall of 0.364, 15 m beyond it: (0.364 − 0.225)/0.225 × 25 m. From 0.45 to 0.6, 25°, a
// fall of 0.466, is 0.107 of the way from the post before that bend to the bend: 22 m before it. Where the contours are counted and terrain ends, the leg says
// that its steepness is not known.
func TestOverSteepGroundUnderALeg(t *testing.T) {
	t.Parallel()
	tile := &terrain.Tile{
		Name: "slope", System: system(t, 27700), NorthWest: geodesy.Grid{E: 227000, N: 746000}, StepE: 25, StepN: 25, Cols: 121, Rows: 121, UnitM: 1,
	}
	for i := range tile.Cols * tile.Rows {
		e := 25 * float64(i%tile.Cols)
		tile.Heights = append(tile.Heights, float32(2000-0.45*max(e-400, 0)-0.15*max(e-800, 0)))
	}
	model, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28}).SetTerrain([]plan.Terrain{{Path: "slope.asc", SHA256: strings.Repeat("a", 64)}})
	for i, e := range [][2]float64{{100, 350}, {100, 700}, {100, 1200}, {1200, 100}, {500, 600}, {2500, 3500}} {
		l := plan.Leg{
			ID:   plan.ID(string(rune('a' + i))),
			From: plan.AtPosition(typed(27700, 227000+e[0], 744500)), To: plan.AtPosition(typed(27700, 227000+e[1], 744500)),
		}
		if i == 5 {
			l.Climb, l.Descent = plan.Count(0), plan.Count(600)
		}
		p = p.AddLeg(l)
	}
	const none = -1
	for deg, want := range map[int][][2]float64{
		0:  {{none}, {315, 24}, {315, 31}, {0, 31}, {0, 24}, {0, 31}},
		25: {{none}, {none}, {678, 31}, {0, 31}, {none}, {0, 31}},
		32: {{none}, {none}, {none}, {none}, {none}, {none}},
	} {
		for i, row := range readerOf(t, p.SetOverSteep(deg)).Over(model).Legs() {
			var got []caution.Caution
			for _, c := range row.Cautions() {
				if c.Code == caution.SteepLeg {
					got = append(got, c)
				}
			}
			w := want[i]
			if (len(got) == 1) != (w[0] >= 0) || len(got) > 1 {
				t.Errorf("from %d°, leg %d: %v, want %v", deg, i+1, got, w)
				continue
			}
			if unknown := caution.Has(row.HeightCautions, caution.SteepnessUnknown); unknown != (i == 5) {
				t.Errorf("from %d°, leg %d: its steepness is unknown: %v", deg, i+1, unknown)
			}
			if len(got) == 0 {
				continue
			}
			at := 0.0
			if w[0] > 0 {
				if _, err := fmt.Sscanf(got[0].Args[0], "from %f m into the leg", &at); err != nil {
					t.Errorf("from %d°, leg %d: %v", deg, i+1, err)
				}
			} else if got[0].Args[0] != "from the start of the leg" {
				t.Errorf("from %d°, leg %d begins %q", deg, i+1, got[0].Args[0])
			}
			// points of a profile are at most 25 m / 3 apart, and words say 10 m less at most
			if at < w[0]-10 || at > w[0]+9 || got[0].Args[1] != fmt.Sprintf("%.0f°", w[1]) || got[0].Stop() {
				t.Errorf("from %d°, leg %d: %v, want first within 10 m of %g m, %g°, a note", deg, i+1, got[0], w[0], w[1])
			}
		}
	}
	x, err := Export(p, model)
	if err != nil {
		t.Fatal(err)
	}
	if desc := x.Routes[1][0].Desc; !strings.Contains(desc, "Over-steep, from ") || !strings.Contains(desc, " 24° steep") || strings.HasPrefix(desc, "STOP") {
		t.Errorf("the leg in the export says %q", desc)
	}
}

// The party's own counts hold by slope: climb and descent share 600 m as 150 to 50, so 450 m
// rise at 18° and 150 m fall at 18°: 4.5 × 80 + 1.5 × 70 = 465 double paces.
func TestPacesBySlope(t *testing.T) {
	t.Parallel()
	p := route(600)
	l := p.Legs[0]
	l.Climb, l.Descent = plan.Count(150), plan.Count(50)
	party := p.Party
	party.PacesUp, party.PacesDown = 80, 70
	p = p.SetLeg(l).SetParty(party)
	row := readerOf(t, p).Legs()[0]
	if per := row.Per100m(party); math.Abs(per-77.5) > 1e-9 {
		t.Errorf("got %g double paces to 100 m, want 77.5", per)
	}
	party.PacesUp = 0 // as on the flat
	if per := row.Per100m(party); math.Abs(per-(0.75*64+0.25*70)) > 1e-9 {
		t.Errorf("uphill as on the flat: got %g", per)
	}
}

// Heights read off contours check a sheet only over the terrain that they are compared with:
// another model is another verdict, and the same one is not judged again.
func TestHeightsAreJudgedByTheTerrainInHand(t *testing.T) {
	t.Parallel()
	p := heightsPlan(t)
	r, err := new(Reader).For(p)
	if err != nil {
		t.Fatal(err)
	}
	id := p.Sheets[0].ID
	if v := r.Verdict(id); v.Checked || v.Evidence[0].Counts {
		t.Errorf("without terrain: %+v", v.Evidence[0])
	}
	good := r.Over(hillsModel(t, 0))
	if v := good.Verdict(id); !v.Checked {
		t.Fatalf("over its terrain the sheet is unchecked: %v, open %v", v.Cautions, v.Open)
	}
	if v := good.Over(hillsModel(t, 60)).Verdict(id); v.Checked || !caution.Has(v.Cautions, caution.HeightsDisagree) {
		t.Errorf("over terrain 60 m higher: checked %v, %v", v.Checked, v.Cautions)
	}
	if v := good.Over(nil).Verdict(id); v.Checked {
		t.Error("the verdict outlives its terrain")
	}
}

// The ground between two ends is asked for once, however the sheet is calibrated since, and the
// rows are those read anew.
func TestGroundIsTakenOver(t *testing.T) {
	t.Parallel()
	p, m := heightsPlan(t), hillsModel(t, 0)
	end := func(e, n float64) plan.End {
		return plan.AtPosition(plan.ImportedAt(p.Sheets[0].Code, geodesy.Grid{E: e, N: n}, 5))
	}
	p = p.AddLeg(plan.Leg{ID: "leg-1", From: end(223_000, 752_000), To: end(224_000, 752_500)})
	p = p.AddLeg(plan.Leg{ID: "leg-2", From: end(224_000, 752_500), To: end(224_300, 753_900)})
	r := readerOf(t, p).Over(m)
	r.Legs()
	moved := p.Sheets[0].Points[0]
	moved.At.Col += 3
	p = p.SetSheet(p.Sheets[0].SetPoint(0, moved))
	between, err := r.For(p) // whose rows nobody reads
	if err != nil {
		t.Fatal(err)
	}
	p = p.MovePoint("leg-2", int(plan.ToEnd), end(225_000, 754_000)).SetDate(plan.Date{Year: 2027, Month: 2, Day: 1})
	after, err := between.For(p)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := after.Legs(), readerOf(t, p).Over(m).Legs(); !reflect.DeepEqual(got, want) {
		t.Errorf("the rows taken over are not those read anew:\n%+v\n%+v", got, want)
	}
	kept := 0
	for key, read := range *after.rows.known.Load() {
		if was := (*r.rows.known.Load())[key]; was.relief != nil && was.relief == read.relief {
			kept++
		}
	}
	if kept != 1 {
		t.Errorf("the ground of %d legs is kept, want that of the one that stays", kept)
	}
	if over := after.Over(hillsModel(t, 60)); over.rows.before != nil {
		t.Error("ground is kept over another model")
	}
}

// hillsAt is ground that repeats nowhere on the sheet.
func hillsAt(e, n float64) float64 {
	h := 300.0
	for i, w := range []float64{900, 1270, 1790, 2530, 3570, 5050, 7140} {
		sin, cos := math.Sincos(2.4 * float64(i))
		h += math.Pow(w/7140, 0.7) * 90 * math.Sin(2*math.Pi*((e*cos+n*sin)/w)+float64(i))
	}
	return h
}

// hillsModel is a model of hillsAt, so many metres too high, on the sheet of heightsPlan and
// 5 km round it.
func hillsModel(t *testing.T, tooHighM float64) *terrain.Model {
	t.Helper()
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	tile := &terrain.Tile{System: sys, NorthWest: geodesy.Grid{E: 214_500, N: 765_500}, StepE: 25, StepN: 25, Cols: 1021, Rows: 901, UnitM: 1}
	for i := range tile.Cols * tile.Rows {
		e, n := tile.NorthWest.E+25*float64(i%tile.Cols), tile.NorthWest.N-25*float64(i/tile.Cols)
		tile.Heights = append(tile.Heights, float32(hillsAt(e, n)+tooHighM))
	}
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// heightsPlan is a plan of a sheet of 5 m to the pixel with four control points and twelve
// heights where its contours of 10 m are.
func heightsPlan(t *testing.T) *plan.Plan {
	t.Helper()
	s := plan.Sheet{ID: "sheet-1", Picture: "hills.png", Width: 3000, Height: 2400, Code: geodesy.EPSG(27700), Contour: 10}
	at := func(e, n float64) calib.PicturePt {
		return calib.PicturePt{Col: (e - 220_000) / 5, Row: (760_000 - n) / 5}
	}
	for _, c := range [][2]float64{{221_000, 759_000}, {234_000, 759_000}, {234_000, 749_000}, {221_000, 749_000}} {
		s.Points = append(s.Points, calib.ControlPoint{At: at(c[0], c[1]), Ref: geodesy.Grid{E: c[0], N: c[1]}, Text: fmt.Sprintf("NN %.0f %.0f", c[0]/1000-200, c[1]/1000-700)})
	}
	for i := range 12 {
		e, n := 221_500+3100*float64(i%4), 750_100+3300*float64(i/4)
		for math.Ceil(hillsAt(e, n)/10) == math.Ceil(hillsAt(e+2, n)/10) {
			e += 2
		}
		m := 10 * math.Floor(max(hillsAt(e, n), hillsAt(e+2, n))/10)
		s.Evidence = append(s.Evidence, calib.Evidence{Source: calib.FromTerrain, At: at(e+1, n), Text: fmt.Sprintf("%.0f m", m)})
	}
	return plan.New(plan.Date{Year: 2026, Month: 11, Day: 25}).SetSheet(s)
}
