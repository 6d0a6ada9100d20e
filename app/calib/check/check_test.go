package check

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
)

// made is a made sheet: pixels of mpp metres, north up, whose top-left corner is at
// east, north.
type made struct {
	w, h, mpp, east, north float64
	sigma                  float64 // of clicks, pixels
}

func usual() made { return made{w: 3000, h: 2400, mpp: 5, east: 20300, north: 760400, sigma: 0.7} }

func (m made) at(g geodesy.Grid) calib.PicturePt {
	return calib.PicturePt{Col: (g.E - m.east) / m.mpp, Row: (m.north - g.N) / m.mpp}
}

func (m made) click(rng *rand.Rand, g geodesy.Grid) calib.PicturePt {
	p := m.at(g)
	return calib.PicturePt{Col: p.Col + m.sigma*rng.NormFloat64(), Row: p.Row + m.sigma*rng.NormFloat64()}
}

func (m made) points(rng *rand.Rand, refs ...geodesy.Grid) []calib.ControlPoint {
	out := make([]calib.ControlPoint, len(refs))
	for i, g := range refs {
		out[i] = calib.ControlPoint{At: m.click(rng, g), Ref: g, SigmaPx: m.sigma}
	}
	return out
}

func (m made) sheet(t testing.TB, id string, points []calib.ControlPoint, evidence ...Evidence) Sheet {
	t.Helper()
	c, err := calib.Fit(points, calib.Options{Width: int(m.w), Height: int(m.h)})
	if err != nil {
		t.Fatal(err)
	}
	return Sheet{ID: id, Name: id + ".tif", Fit: c, Width: int(m.w), Height: int(m.h), Lettered: true, Evidence: evidence}
}

// feature is evidence of a true position, whose reference stands for a square.
func (m made) feature(rng *rand.Rand, source calib.EvidenceSource, g geodesy.Grid, square float64) Evidence {
	corner := geodesy.Grid{E: square * math.Floor(g.E/square), N: square * math.Floor(g.N/square)}
	centre := geodesy.Grid{E: corner.E + square/2, N: corner.N + square/2}
	return Evidence{
		Evidence: calib.Evidence{Source: source, At: m.click(rng, g), SigmaPx: m.sigma},
		Meanings: []Meaning{{Ref: centre, SigmaM: square / math.Sqrt(12)}}, Corner: corner,
	}
}

// margin is evidence by latitude and longitude that were rounded to a step in metres;
// on the grid's own datum they mean ground that lies 90 m elsewhere.
func (m made) margin(rng *rand.Rand, g geodesy.Grid, step float64) Evidence {
	r := geodesy.Grid{E: step * math.Round(g.E/step), N: step * math.Round(g.N/step)}
	sigma := step / math.Sqrt(12)
	return Evidence{
		Evidence: calib.Evidence{Source: calib.FromMargin, At: m.click(rng, g), SigmaPx: m.sigma, LatLon: true},
		Meanings: []Meaning{{Ref: r, SigmaM: sigma}, {Ref: geodesy.Grid{E: r.E + 75, N: r.N - 50}, SigmaM: sigma, Own: true}},
	}
}

func km(list ...[2]float64) []geodesy.Grid {
	out := make([]geodesy.Grid, len(list))
	for i, p := range list {
		out[i] = geodesy.Grid{E: 1000 * p[0], N: 1000 * p[1]}
	}
	return out
}

func corners() []geodesy.Grid {
	return km([2]float64{21, 760}, [2]float64{35, 760}, [2]float64{35, 749}, [2]float64{21, 749})
}

func rowsOf(columns ...float64) []geodesy.Grid {
	var out []geodesy.Grid
	for _, n := range []float64{760, 749} {
		for _, e := range columns {
			out = append(out, geodesy.Grid{E: 1000 * e, N: 1000 * n})
		}
	}
	return out
}

func verdict(s ...Sheet) Verdict { return Judge(Input{Sheets: s})[0] }

func has(v Verdict, code caution.Code) bool {
	return slices.ContainsFunc(v.Cautions, func(c caution.Caution) bool { return c.Code == code })
}

// Sound sheets of four spread points are checked by the first good evidence, and how
// closely.
func TestSoundSheetsAreChecked(t *testing.T) {
	t.Parallel()
	m := usual()
	for name, tc := range map[string]struct {
		evidence func(*rand.Rand, geodesy.Grid) Evidence
		within   float64
	}{
		"0.1′ of a margin":       {func(r *rand.Rand, g geodesy.Grid) Evidence { return m.margin(r, g, 185) }, 300},
		"1″ of a margin":         {func(r *rand.Rand, g geodesy.Grid) Evidence { return m.margin(r, g, 31) }, 60},
		"six figures of a list":  {func(r *rand.Rand, g geodesy.Grid) Evidence { return m.feature(r, calib.FromList, g, 100) }, 160},
		"eight figures":          {func(r *rand.Rand, g geodesy.Grid) Evidence { return m.feature(r, calib.FromList, g, 10) }, 30},
		"ten figures, receiver":  {func(r *rand.Rand, g geodesy.Grid) Evidence { return m.feature(r, calib.FromReceiver, g, 1) }, 30},
		"a receiver's 6 figures": {func(r *rand.Rand, g geodesy.Grid) Evidence { return m.feature(r, calib.FromReceiver, g, 100) }, 160},
	} {
		rng := rand.New(rand.NewPCG(7, 1))
		const sheets = 200
		checked, wrong := 0, 0
		var within []float64
		for range sheets {
			g := geodesy.Grid{E: 21000 + 14000*rng.Float64(), N: 749000 + 11000*rng.Float64()}
			s := m.sheet(t, "a", m.points(rng, corners()...), tc.evidence(rng, g))
			v := verdict(s)
			if !v.Checked {
				continue
			}
			checked++
			within = append(within, v.WithinM)
			if m.off(s.Fit) > v.WithinM {
				wrong++
			}
		}
		slices.Sort(within)
		if checked < sheets*95/100 {
			t.Errorf("%s: %d of %d sound sheets are checked", name, checked, sheets)
			continue
		}
		if median := within[len(within)/2]; median > tc.within || wrong > sheets/100 {
			t.Errorf("%s: checked to ± %.0f m in the median, want %.0f; %d errors beyond", name, median, tc.within, wrong)
		}
	}
}

// off is the farthest that one of 7 × 7 points lies from the truth, in metres.
func (m made) off(c *calib.Calibration) float64 {
	most := 0.0
	for i := range 7 {
		for j := range 7 {
			p := calib.PicturePt{Col: m.w * (float64(i) + 0.5) / 7, Row: m.h * (float64(j) + 0.5) / 7}
			g := c.ToGrid(p)
			most = math.Max(most, math.Hypot(g.E-m.east-m.mpp*p.Col, g.N-m.north+m.mpp*p.Row))
		}
	}
	return most
}

// A row of control points one line out went unnoticed, and was then checked by the margin's
// corner near the good row and by features of six figures.
func TestARowOneLineOutIsNeverChecked(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(7, 2))
	for _, refs := range [][]geodesy.Grid{corners(), rowsOf(21, 28, 35), rowsOf(21, 24, 28, 31, 35)} {
		for trial := range 60 {
			points := m.points(rng, refs...)
			for i := range points {
				if points[i].Ref.N == 760000 {
					points[i].Ref.N += 1000
				}
			}
			near := geodesy.Grid{E: 20400 + 14000*rng.Float64(), N: 748600 + 1000*rng.Float64()}
			e := m.margin(rng, near, 185)
			if trial%2 == 1 {
				e = m.feature(rng, calib.FromList, geodesy.Grid{E: 21000 + 14000*rng.Float64(), N: 749000 + 11000*rng.Float64()}, 100)
			}
			v := verdict(m.sheet(t, "a", points, e))
			if v.Checked || !has(v, caution.SlipSet) && !has(v, caution.SlipNamed) {
				t.Fatalf("%d points, trial %d: checked %v, %v", len(points), trial, v.Checked, v.Cautions)
			}
		}
	}
}

// Three points leave slips open; a point that is wrong by a digit, and features that
// agree with a bad fit's wide error bars, once checked such sheets.
func TestAPoorFitIsNotChecked(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(7, 3))
	layouts := [][]geodesy.Grid{corners()[:3], append(corners(), geodesy.Grid{E: 27000, N: 755000})}
	for trial := range 300 {
		refs := layouts[trial%len(layouts)]
		points := m.points(rng, refs...)
		i, size := rng.IntN(len(points)), []float64{1000, -1000, 10000, 2000}[rng.IntN(4)]
		if rng.IntN(2) == 0 {
			points[i].Ref.E += size
		} else {
			points[i].Ref.N += size
		}
		g := geodesy.Grid{E: 21000 + 14000*rng.Float64(), N: 749000 + 11000*rng.Float64()}
		s := m.sheet(t, "a", points, m.feature(rng, calib.FromList, g, 100))
		v := verdict(s)
		silent := !has(v, caution.OpenSlip) && !slices.ContainsFunc(v.Cautions, caution.Caution.Stop) && !caution.Stops(s.Fit.Cautions(), caution.All)
		if v.Checked || silent {
			t.Fatalf("trial %d, %d points, point %d out by %g m: checked %v, %v", trial, len(points), i+1, size, v.Checked, v.Cautions)
		}
	}
}

// Point 4 is a square out. Judged at the tilt that gives four points of a photograph,
// another slip of point 3 looks certain; a fifth point shows the right one.
func TestFourPointsOfAPhotographNameNoSlipForCertain(t *testing.T) {
	t.Parallel()
	all := []calib.ControlPoint{
		{At: calib.PicturePt{Col: 453.6, Row: 1544.1}, Ref: geodesy.Grid{E: 231000, N: 745000}},
		{At: calib.PicturePt{Col: 2022.3, Row: 433.1}, Ref: geodesy.Grid{E: 236000, N: 749000}},
		{At: calib.PicturePt{Col: 1990.7, Row: 1695.0}, Ref: geodesy.Grid{E: 236000, N: 745000}},
		{At: calib.PicturePt{Col: 610.8, Row: 433.7}, Ref: geodesy.Grid{E: 231000, N: 748000}},
		{At: calib.PicturePt{Col: 1081.6, Row: 989.9}, Ref: geodesy.Grid{E: 233000, N: 747000}},
	}
	for _, n := range []int{4, 5} {
		fit, err := calib.Fit(all[:n], calib.Options{Width: 2600, Height: 2000, Medium: calib.Photograph})
		if err != nil {
			t.Fatal(err)
		}
		v := verdict(Sheet{ID: "a", Fit: fit, Width: 2600, Height: 2000, Lettered: true})
		if len(v.Named) == 0 || v.Guesses != (n == 4) || has(v, caution.SlipSet) != v.Guesses || has(v, caution.SlipNamed) == v.Guesses {
			t.Errorf("%d points: guesses %v, %v", n, v.Guesses, v.Cautions)
		}
		if n == 5 && v.Named[0].Points[0] != 3 {
			t.Errorf("five points name %v, want point 4", v.Named)
		}
	}
}

// Slips that points and figures of the same grid share: a whole square everywhere.
func TestASquareEverywhereIsSeenFromOutsideOnly(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(7, 4))
	points := m.points(rng, corners()...)
	for i := range points {
		points[i].Ref.E += 1000
	}
	g := geodesy.Grid{E: 29340, N: 751270}
	moved := geodesy.Grid{E: g.E + 1000, N: g.N}
	own := m.feature(rng, calib.FromOwnGrid, moved, 100)
	own.At = m.click(rng, g)
	if v := verdict(m.sheet(t, "a", points, own)); v.Checked || v.Advice == "" {
		t.Errorf("by the map's own grid: %+v", v)
	}
	list := m.feature(rng, calib.FromList, g, 100)
	if v := verdict(m.sheet(t, "a", points, list)); v.Checked || !has(v, caution.EvidenceDisagree) || !has(v, caution.SlipNamed) {
		t.Errorf("by a list: %+v", v)
	}
	for _, square := range []float64{1, 10, 100} { // an intersection out by the same square, said to come from a list
		corner := m.feature(rng, calib.FromList, geodesy.Grid{E: 29001, N: 751001}, square)
		corner.At = m.click(rng, geodesy.Grid{E: 28001, N: 751001})
		if v := verdict(m.sheet(t, "a", points, corner)); v.Checked {
			t.Errorf("an intersection of the printed grid, to %g m, checks what was made from them", square)
		}
	}
}

// farZone is a wrong name whose ground lies 383 km elsewhere, as of the zone beside.
func farZone() Name {
	return Name{Words: "the zone is 31, not 30", On: func(g geodesy.Grid) (geodesy.Grid, bool) {
		return geodesy.Grid{E: g.E - 383000, N: g.N + 2000}, true
	}}
}

// A sheet in a wrong zone was once checked by three intersections named as easting and northing.
func TestNamesAreNotCheckedByEastingAndNorthing(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(7, 5))
	points := m.points(rng, corners()...)
	judge := func(e ...Evidence) Verdict {
		return Judge(Input{Sheets: []Sheet{m.sheet(t, "a", points, e...)}, Names: []Name{farZone()}})[0]
	}
	g := geodesy.Grid{E: 29340, N: 751270}
	list := m.feature(rng, calib.FromList, g, 10)
	if v := judge(list); v.Checked || !strings.Contains(v.Advice, "latitude and longitude") {
		t.Errorf("by easting and northing of a list: %+v", v)
	}
	plain := m.sheet(t, "a", points, list)
	plain.Lettered = false
	if v := verdict(plain); v.Checked || !strings.Contains(v.Advice, "latitude and longitude") {
		t.Errorf("plain figures alone, of a grid that may be another: %+v", v)
	}
	plain.Evidence[0].Letters = true
	if v := verdict(plain); !v.Checked {
		t.Errorf("by a reference with letters: %+v", v)
	}
	zone := list
	zone.Zone = true
	if v := judge(zone); !v.Checked {
		t.Errorf("by a reference with its zone: %+v", v)
	}
	if v := judge(m.margin(rng, g, 31)); !v.Checked {
		t.Errorf("by latitude and longitude: %+v", v)
	}
}

// By a file's matrix: named intersections close all but its name, latitude and
// longitude that too.
func TestAFileIsCheckedByNamesAndLatitude(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(7, 6))
	of := func(matrix [6]float64, e ...Evidence) Verdict {
		c, err := calib.FromMatrix(matrix, 2, 0)
		if err != nil {
			t.Fatal(err)
		}
		return verdict(Sheet{ID: "a", Name: "a.tif", Fit: c, Width: int(m.w), Height: int(m.h), ByFile: true, Evidence: e})
	}
	right := [6]float64{m.mpp, 0, m.east, 0, -m.mpp, m.north}
	names := func() []Evidence {
		var out []Evidence
		for _, g := range corners()[:3] {
			e := m.feature(rng, calib.FromOwnGrid, g, 1)
			e.Meanings[0] = Meaning{Ref: g}
			out = append(out, e)
		}
		return out
	}
	latLon := m.margin(rng, geodesy.Grid{E: 20400, N: 748500}, 31)
	if v := of(right, names()...); v.Checked || !strings.Contains(v.Advice, "latitude and longitude") {
		t.Errorf("by three intersections: %+v", v)
	}
	if v := of(right, append(names(), latLon)...); !v.Checked {
		t.Errorf("by three intersections and a corner: %+v", v)
	}
	for what, e := range map[string][]Evidence{
		"one intersection":      {names()[0], latLon},
		"two":                   names()[:2],
		"a corner":              {latLon},
		"three in one line":     {names()[0], names()[1], m.margin(rng, geodesy.Grid{E: 28000, N: 760000}, 31)},
		"an intersection twice": {names()[0], names()[0], latLon},
	} {
		if v := of(right, e...); v.Checked {
			t.Errorf("%s checks a file", what)
		}
	}
	for what, matrix := range map[string][6]float64{
		"twice as large": {2 * m.mpp, 0, m.east, 0, -2 * m.mpp, m.north},
		"1 km out":       {m.mpp, 0, m.east + 1000, 0, -m.mpp, m.north},
		"300 m out":      {m.mpp, 0, m.east, 0, -m.mpp, m.north - 300},
	} {
		if v := of(matrix, append(names(), latLon)...); v.Checked || !has(v, caution.EvidenceDisagree) {
			t.Errorf("%s: %+v", what, v)
		}
	}
	lines := func(off float64) []Evidence {
		var out []Evidence
		for i := range 6 {
			g := geodesy.Grid{E: 22000 + 2000*float64(i), N: 752000}
			p := m.at(geodesy.Grid{E: g.E + off, N: g.N})
			out = append(out, Evidence{Evidence: calib.Evidence{Source: calib.FromOwnGrid, At: p, SigmaPx: 0.7, SquareM: 1000}})
		}
		return out
	}
	if v := of(right, lines(0)...); v.Checked || has(v, caution.EvidenceDisagree) {
		t.Errorf("by printed lines without figures: %+v", v)
	}
	if v := of(right, append(append(names(), latLon), lines(60)...)...); v.Checked || !has(v, caution.EvidenceDisagree) {
		t.Errorf("against printed lines 60 m beside: %+v", v)
	}
}

// through is evidence by a feature that another sheet shows, too.
func (m made) through(rng *rand.Rand, other string, g geodesy.Grid) Evidence {
	return Evidence{Evidence: calib.Evidence{
		Source: calib.FromSheet, Text: "Cairn", Sheet: other, At: m.click(rng, g), SigmaPx: m.sigma, SheetAt: m.click(rng, g), SheetSigmaPx: m.sigma,
	}}
}

// Checks by overlap rest on a sheet that is checked itself; circles are unchecked, and
// what rests on a sheet falls with it.
func TestCirclesAndChains(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(7, 7))
	g := geodesy.Grid{E: 29340, N: 751270}
	points := m.points(rng, corners()...)
	a := m.sheet(t, "a", points, m.through(rng, "b", g))
	b := m.sheet(t, "b", m.points(rng, corners()...), m.through(rng, "a", g), m.through(rng, "b", g))
	for i, v := range Judge(Input{Sheets: []Sheet{a, b}}) {
		if v.Checked || !has(v, caution.RestsOnUnchecked) {
			t.Errorf("sheet %d of a circle: %+v", i, v)
		}
	}
	b.Evidence = append(b.Evidence, m.feature(rng, calib.FromList, g, 10))
	c := m.sheet(t, "c", points, m.through(rng, "a", g))
	for i, v := range Judge(Input{Sheets: []Sheet{c, a, b}}) {
		if !v.Checked {
			t.Errorf("sheet %d of a chain: %+v", i, v)
		}
	}
	for i, v := range Judge(Input{Sheets: []Sheet{c, a}}) {
		if v.Checked {
			t.Errorf("sheet %d is checked without the sheet that it rests on", i)
		}
	}
	wrong := m.points(rng, corners()...)
	for i := range wrong {
		wrong[i].Ref.E += 1000
	}
	if v := Judge(Input{Sheets: []Sheet{m.sheet(t, "a", wrong, m.through(rng, "b", g)), b}})[0]; v.Checked || !has(v, caution.EvidenceDisagree) {
		t.Errorf("a sheet 1 km out, beside a checked one: %+v", v)
	}
}

// A margin that would agree on the other datum if all lines were out by the same square shows
// neither.
func TestTheOtherDatumMayHideASquare(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(7, 8))
	e := m.margin(rng, geodesy.Grid{E: 29340, N: 751270}, 31)
	e.Meanings[1].Ref = geodesy.Grid{E: e.Meanings[0].Ref.E - 1000, N: e.Meanings[0].Ref.N + 3}
	if v := verdict(m.sheet(t, "a", m.points(rng, corners()...), e)); v.Checked {
		t.Errorf("checked: %+v", v)
	}
}

// Each piece of evidence has its own result, and an unchecked sheet a place for what is
// advised.
func TestResultsOfEvidence(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(7, 21))
	good := m.feature(rng, calib.FromList, geodesy.Grid{E: 29340, N: 751270}, 10)
	bad := m.feature(rng, calib.FromList, geodesy.Grid{E: 24340, N: 755270}, 10)
	bad.Meanings[0].Ref.E += 400
	rests := Evidence{Evidence: calib.Evidence{Source: calib.FromSheet, Sheet: "none"}}
	v := verdict(m.sheet(t, "a", m.points(rng, corners()...), good, bad, rests))
	if len(v.Evidence) != 3 || !v.Evidence[0].Agrees() || v.Evidence[1].Agrees() || v.Evidence[2].Counts {
		t.Fatalf("%+v", v.Evidence)
	}
	if r := v.Evidence[1]; math.Abs(r.OffM-400) > 20 || r.MostM > 100 {
		t.Errorf("400 m out is reported as %.0f m, of %.0f m allowed", r.OffM, r.MostM)
	}
	three := verdict(m.sheet(t, "a", m.points(rng, corners()[:3]...)))
	if len(three.Open) == 0 || three.At.Col > m.w/2 || three.At.Row < m.h/2 {
		t.Errorf("three points leave %d slips open, closed at %+v, want the empty corner at the lower left", len(three.Open), three.At)
	}
}

// Unnamed lines take the nearest multiple of their square, and so agree with a sheet
// that lies whole squares out: they close no slip and check nothing, however small a
// file says that the square is.
func TestUnnamedLinesCloseNoSlip(t *testing.T) {
	t.Parallel()
	m := usual()
	for _, square := range []float64{0.01, 1, 100, 1000} {
		rng := rand.New(rand.NewPCG(9, 4))
		s := m.sheet(t, "a", m.points(rng, corners()[0], corners()[2]))
		for _, g := range rowsOf(23, 26, 29, 32) {
			s.Evidence = append(s.Evidence, Evidence{Evidence: calib.Evidence{Source: calib.FromOwnGrid, At: m.click(rng, g), SigmaPx: 0.7, SquareM: square}})
		}
		if v := verdict(s); v.Checked || !has(v, caution.OpenSlip) {
			t.Errorf("squares of %g m: checked %v, %v", square, v.Checked, v.Cautions)
		}
	}
}

// Many grid intersections that agree do not hide a listed feature that is five standard
// deviations out.
func TestGoodEvidenceDoesNotHideBad(t *testing.T) {
	t.Parallel()
	m := usual()
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 6))
		var all []Evidence
		for i := range 40 {
			g := geodesy.Grid{E: 22000 + 1000*float64(i%10), N: 750000 + 2000*float64(i/10)}
			e := m.feature(rng, calib.FromOwnGrid, g, 1000)
			e.Meanings = []Meaning{{Ref: g}}
			all = append(all, e)
		}
		bad := m.feature(rng, calib.FromList, geodesy.Grid{E: 28350, N: 754450}, 100)
		bad.Meanings[0].Ref.E += 160
		v := verdict(m.sheet(t, "a", m.points(rng, corners()...), append(all, bad)...))
		if v.Checked || !has(v, caution.EvidenceDisagree) {
			t.Errorf("seed %d: checked %v, cautions %v", seed, v.Checked, v.Cautions)
		}
	}
}

// Clicks of a large stated σ explain everything and check nothing.
func TestVagueSheetIsNotChecked(t *testing.T) {
	t.Parallel()
	m, rng := usual(), rand.New(rand.NewPCG(9, 5))
	points := m.points(rng, corners()...)
	for i := range points {
		points[i].SigmaPx = 1000
	}
	feature := m.feature(rng, calib.FromList, geodesy.Grid{E: 28312, N: 755777}, 10)
	if v := verdict(m.sheet(t, "a", points, feature)); v.Checked {
		t.Errorf("checked to ± %.0f m", v.WithinM)
	}
}

// Right points of a tilted map disagree until there are enough for its tilt: none of
// them may be called wrong before.
func TestThreePointsOfAPhotographAccuseNobody(t *testing.T) {
	t.Parallel()
	all := []calib.ControlPoint{
		{At: calib.PicturePt{Col: 712, Row: 511}, Ref: geodesy.Grid{E: 121000, N: 748000}},
		{At: calib.PicturePt{Col: 4154, Row: 2561}, Ref: geodesy.Grid{E: 134000, N: 740000}},
		{At: calib.PicturePt{Col: 4294, Row: 476}, Ref: geodesy.Grid{E: 134000, N: 748000}},
	}
	for _, medium := range []calib.Medium{calib.Photograph, calib.Scan} {
		fit, err := calib.Fit(all, calib.Options{Width: 6000, Height: 4000, Medium: medium})
		if err != nil {
			t.Fatal(err)
		}
		v := verdict(Sheet{ID: "a", Fit: fit, Width: 6000, Height: 4000, Lettered: true})
		stops := caution.OfGrade(v.CautionsWith(fit), caution.Stop)
		if alone := len(stops) == 1 && stops[0].Code == caution.PhotoNeedsFive; alone != (medium == calib.Photograph) || len(stops) == 0 {
			t.Errorf("%v: stops %v", medium, stops)
		}
	}
}
