package paper

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/mapio/rectify"
)

// plain is a sheet of one shade all over, turned, of 8 m a pixel: few of them are soon drawn.
func plain(t testing.TB, shade byte) rectify.Sheet {
	t.Helper()
	s := given(t, 800, [6]float64{8, 0.4, madeE - 1000, 0.4, -8, madeN + 5000})
	s.Cut = func(r image.Rectangle) (*image.RGBA, error) {
		m := image.NewRGBA(image.Rectangle{Max: r.Size()})
		for i := range m.Pix {
			m.Pix[i] = shade
			if i%4 == 3 {
				m.Pix[i] = 255
			}
		}
		return m, nil
	}
	return s
}

// TestBlackLinesShowOnBlackGround measures across lines on a page: black of 0.35 mm and more
// between white, on ground that was black and is lightened.
func TestBlackLinesShowOnBlackGround(t *testing.T) {
	t.Parallel()
	c := Cut{Sheet: plain(t, 0), Scale: 25_000, Things: Things{
		Legs:    []CutLeg{{Number: 1, From: at(1000, 1000), To: at(2000, 1000), GroundM: 1000}},
		Escapes: []CutWay{{Name: "E01-1", Points: []geodesy.Grid{at(1000, 1500), at(2000, 1500)}}},
		Lines:   []CutLine{{Name: "path", Points: []geodesy.Grid{at(1000, 1750), at(2000, 1750)}}},
	}}
	c.Ground = Ground{madeE + 900, madeN + 900, madeE + 2100, madeN + 1900}
	page, box, g := drawnCut(t, c, A6)
	m := cutMap{cut: &c, box: box, g: g}
	for name, from := range map[string]geodesy.Grid{"leg": at(1050, 1000), "escape": at(1015, 1500), "line": at(1020, 1750)} {
		mid := m.at(from)
		black, white := 0.0, 0.0
		for dy := -1.6; dy <= 1.6; dy += 0.2 / perMM {
			switch v := page.value(Point{mid.X, mid.Y + dy}); {
			case v < 60:
				black += 0.2 / perMM
			case v > 240:
				white += 0.2 / perMM
			}
		}
		ground := page.value(Point{mid.X, mid.Y + 2.4})
		if black < MinRule-0.05 || white < 2*casing-0.1 || math.Abs(ground-127) > 8 {
			t.Errorf("%s: %.2f mm black, %.2f mm white, ground of shade %.0f", name, black, white, ground)
		}
	}
}

// allThings is one of each kind.
func allThings() Things {
	area := func(e, n float64) []geodesy.Grid {
		return []geodesy.Grid{at(e, n), at(e+300, n), at(e+330, n+400), at(e, n+350)}
	}
	t := Things{
		Legs:    []CutLeg{{Number: 1, From: at(300, 300), To: at(1200, 700), GroundM: 985}, {Number: 2, From: at(1200, 700), To: at(1500, 1700), GroundM: 1044, Stopped: true}},
		Escapes: []CutWay{{Name: "DRAFT E02-1", Points: []geodesy.Grid{at(1200, 700), at(1900, 500), at(2100, 300)}, Stopped: true}, {Name: "E03-1", Points: []geodesy.Grid{at(1500, 1700), at(1100, 2000), at(500, 1800)}}},
		Marks:   []CutMark{{"Čerň stone", at(300, 300)}, {"Stile", at(1200, 700)}, {"Tarn mouth", at(1500, 1700)}},
		Havens:  []CutHaven{{"Hut", []geodesy.Grid{at(2100, 300)}}, {"Valley road", []geodesy.Grid{at(0, 100), at(1000, 150), at(2400, 100)}}},
		Lines:   []CutLine{{"path", []geodesy.Grid{at(500, 2100), at(1000, 2200), at(2000, 2200)}, false}, {"wall", []geodesy.Grid{at(500, 2300), at(1000, 2400), at(2000, 2350)}, true}},
	}
	for i, k := range plan.HazardKinds() {
		t.Hazards = append(t.Hazards, CutHazard{k, fmt.Sprint("Ground ", i), area(100+float64(i%3)*500, 800+float64(i/3)*700), true})
	}
	for i, g := range plan.AreaGrounds() {
		t.Areas = append(t.Areas, CutArea{g, fmt.Sprint("Wood ", i), area(1400+float64(i%2)*450, 700+float64(i/2)*650)})
	}
	return t
}

// TestEverythingIsNamed: legs, marks, escapes, havens, kinds of lines, scale, grid and
// cautions can be read from the page, and once each.
func TestEverythingIsNamed(t *testing.T) {
	t.Parallel()
	c := Cut{Sheet: plain(t, 0), Scale: 25_000, Things: allThings(), Words: []string{"GMA 2° east: grid to magnetic, take off 2."}}
	c.Ground, _ = c.Things.Ground(100)
	d := begun(t, A5, testInfo())
	if err := d.AddMaps(context.Background(), c, "Leg 2 ends in a crag."); err != nil {
		t.Fatal(err)
	}
	path := written(t, d)
	run(t, "qpdf", "--check", path)
	text := run(t, "pdftotext", "-raw", path, "-")
	text = strings.Join(strings.Fields(text), " ")
	for _, want := range []string{
		"! 2", "Čerň stone", "Stile", "Tarn mouth", "DRAFT E02-1", "E03-1", "Hut", "leg: do not walk", "escape: do not walk", "1:25,000: 1 cm is 250 m",
		"Grid north is up", "British National Grid", "GMA 2° east", "Leg 2 ends in a crag.", "DRAFT: sheet unchecked.", "743", "every 100 m", "1000 m",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the page:\n%s", want, text)
		}
	}
	for _, k := range plan.HazardKinds() {
		if !strings.Contains(text, k.String()+" ") {
			t.Errorf("the key lacks %s", k)
		}
	}
	for _, g := range plan.AreaGrounds() {
		if !strings.Contains(text, "ground: "+g.String()) {
			t.Errorf("the key lacks ground: %s", g)
		}
	}
	if n := strings.Count(text, "Tarn mouth"); n != 1 {
		t.Errorf("the name stands %d times", n)
	}
}

// TestEveryKindLooksDifferent: no two kinds of lines have pens, teeth and hatching in
// common.
func TestEveryKindLooksDifferent(t *testing.T) {
	t.Parallel()
	all := map[string]ink{"leg": legInk, "stopped leg": legStop, "escape": escapeInk, "stopped escape": escapeStop, "line": followInk, "catching": catchingInk, "haven": havenInk}
	for _, k := range plan.HazardKinds() {
		all[k.String()] = hazardInk(k)
	}
	for _, g := range plan.AreaGrounds() {
		all["ground "+g.String()] = areaInk(g)
	}
	same := func(a, b ink) bool {
		return a.tooth == b.tooth && slices.EqualFunc(a.pens, b.pens, func(p, q Pen) bool {
			return math.Abs(p.Width-q.Width) < 0.3 && p.White == q.White && slices.Equal(p.Dash, q.Dash)
		})
	}
	for a, x := range all {
		for b, y := range all {
			if a != b && same(x, y) {
				t.Errorf("%s and %s look alike", a, b)
			}
			if a != b && len(x.hatch) > 0 && slices.EqualFunc(x.hatch, y.hatch, func(g, h hatch) bool { return g.deg == h.deg && slices.Equal(g.dash, h.dash) }) {
				t.Errorf("%s and %s are hatched alike", a, b)
			}
		}
	}
}

// TestHatchingStaysInside: of an area with a bay only what lies inside is hatched.
func TestHatchingStaysInside(t *testing.T) {
	t.Parallel()
	u := []Point{{0, 0}, {30, 0}, {30, 30}, {20, 30}, {20, 10}, {10, 10}, {10, 30}, {0, 30}, {0, 0}}
	if got := crossings(u, 20, 0, 1); !slices.Equal(got, []float64{0, 10, 20, 30}) {
		t.Errorf("a level line through the bay goes in and out at %v", got)
	}
	if got := crossings(u, 5, 0, 1); !slices.Equal(got, []float64{0, 30}) {
		t.Errorf("a level line below the bay goes in and out at %v", got)
	}
	sin, cos := math.Sincos(math.Pi / 4)
	for _, cut := range crossings(u, 3, sin, cos) {
		p := along(3, cut, sin, cos)
		if math.Abs(p.Y*cos-p.X*sin-3) > 1e-9 {
			t.Errorf("%v does not lie on the line", p)
		}
	}
}

// TestCutCancels: the end of the context ends the drawing with its cause, on both ways, and
// an error of the sheet's picture comes out.
func TestCutCancels(t *testing.T) {
	t.Parallel()
	enough := errors.New("enough")
	for _, s := range []rectify.Sheet{madeSheet(t, askew, calib.Photograph), madeSheet(t, hardly, calib.Drawn)} {
		c := Cut{Sheet: s, Scale: 25_000, Ground: Around([]geodesy.Grid{at(1000, 1000)}, 500)}
		ctx, stop := context.WithCancelCause(context.Background())
		stop(enough)
		if err := begun(t, A6, testInfo()).AddMaps(ctx, c); !errors.Is(err, enough) {
			t.Errorf("got %v", err)
		}
		gone := errors.New("the picture is gone")
		c.Sheet.Cut = func(image.Rectangle) (*image.RGBA, error) { return nil, gone }
		if err := begun(t, A6, testInfo()).AddMaps(context.Background(), c); !errors.Is(err, gone) {
			t.Errorf("got %v", err)
		}
	}
}

// TestSameMapSameBytes: a cut drawn twice is the same file, on as many goroutines as there
// are.
func TestSameMapSameBytes(t *testing.T) {
	t.Parallel()
	c := Cut{Sheet: madeSheet(t, askew, calib.Photograph), Scale: 10_000, Things: allThings(), Grey: true}
	c.Ground = Ground{madeE + 700, madeN + 900, madeE + 1700, madeN + 1000}
	var files [2][]byte
	for i := range files {
		d := begun(t, A6, testInfo())
		c.Sheet.Workers = 1 + 3*i
		if err := d.AddMaps(context.Background(), c); err != nil {
			t.Fatal(err)
		}
		var err error
		if files[i], err = d.Bytes(); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(files[0], files[1]) {
		t.Error("the same map gave two files")
	}
	path := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(path, files[0], 0o600); err != nil {
		t.Fatal(err)
	}
	run(t, "qpdf", "--check", path)
	if n := strings.Count(run(t, "pdfimages", "-list", path), " jpeg "); n < 2 {
		t.Errorf("the file has %d pictures, want two, whose order may differ", n)
	}
}

// TestTilesNameTheirNeighbours: pages that go on elsewhere say where, by the numbers in
// their own feet.
func TestTilesNameTheirNeighbours(t *testing.T) {
	t.Parallel()
	c := Cut{Sheet: plain(t, 0), Scale: 10_000, Things: Things{Legs: []CutLeg{{Number: 1, From: at(300, 300), To: at(1500, 300), GroundM: 1200}}}}
	c.Ground, _ = c.Things.Ground(20)
	d := begun(t, A6, testInfo())
	d.AddPage()
	if err := d.AddMaps(context.Background(), c); err != nil {
		t.Fatal(err)
	}
	if d.Pages() != 3 {
		t.Fatalf("%d pages, want 3", d.Pages())
	}
	path := written(t, d)
	for page, want := range map[string]string{"2": "on to page 3", "3": "on to page 2"} {
		text := strings.Join(strings.Fields(run(t, "pdftotext", "-raw", "-f", page, "-l", page, path, "-")), " ")
		if !strings.Contains(text, want) || strings.Count(text, "on to page") != 1 {
			t.Errorf("page %s should say %q alone:\n%s", page, want, text)
		}
	}
}

// TestNotesOfTheSheet: a map says where its sheet has ended, and where the control points
// do not reach.
func TestNotesOfTheSheet(t *testing.T) {
	t.Parallel()
	s := madeSheet(t, hardly, calib.Drawn)
	c := Cut{Sheet: s, Scale: 25_000, Ground: Around([]geodesy.Grid{at(1500, 1500)}, 300)}
	if got := c.reached(c.Ground); got != (reached{}) {
		t.Errorf("amid the sheet: %+v", got)
	}
	if got := c.reached(Around([]geodesy.Grid{at(-500, 1500)}, 900)); !got.white {
		t.Errorf("over the edge: %+v", got)
	}
	c.Sheet = madeSheet(t, askew, calib.Photograph)
	var few []calib.ControlPoint
	for _, p := range c.Sheet.Calibration.Points() {
		if p.At.Col < 400 && p.At.Row > 950 {
			few = append(few, p)
		}
	}
	var err error
	if c.Sheet.Calibration, err = calib.Fit(few, calib.Options{Medium: calib.Photograph, Width: madeWide, Height: madeTal}); err != nil {
		t.Fatal(err)
	}
	far := Around([]geodesy.Grid{at(3000, 2700)}, 200)
	if got := c.reached(far); !got.struck {
		t.Errorf("far from few points: %+v", got)
	}
	if _, asIs := c.similar(far); asIs {
		t.Error("ground that must be struck through would be printed as it is")
	}
}

// TestWordsOnAMapStandApart: no name covers another one or a sign, also of a mark and a haven
// at one place, and none leaves the map.
func TestWordsOnAMapStandApart(t *testing.T) {
	t.Parallel()
	c := Cut{Sheet: flat(t), Scale: 25_000, Things: allThings()}
	c.Things.Marks = append(c.Things.Marks, CutMark{"Hut below the long wall", at(2100, 300)}, CutMark{"Corner", at(2390, 2390)})
	c.Ground, _ = c.Things.Ground(20)
	d := begun(t, A5, testInfo())
	p := d.AddMapPage()
	pages, err := c.LayOut(d, p.Body)
	if err != nil {
		t.Fatal(err)
	}
	m := &cutMap{cut: &c, page: p, box: pages.area(p.Body), g: pages.tiles[0].Ground}
	m.reserve()
	m.placeWords()
	if len(m.words) != 21 {
		t.Fatalf("%d words found room, want all 21", len(m.words))
	}
	for i, w := range m.words {
		if b := m.bound(1e-6); !b.Contains(w.box.Min) || !b.Contains(w.box.Max) {
			t.Errorf("%q leaves the map", w.text)
		}
		for _, o := range m.words[:i] {
			if w.box.Intersects(o.box) {
				t.Errorf("%q covers %q", w.text, o.text)
			}
		}
		for _, sign := range m.signs {
			if w.box.Intersects(sign) {
				t.Errorf("%q covers a sign", w.text)
			}
		}
	}
}

// TestCrowdedNamesDoNotCoverEachOther: where marks crowd at the edges of tiles, no word covers another
// or the name of the next page; a name that has no room is left out, and the map says so. Numbers of
// legs and names of escapes stand.
func TestCrowdedNamesDoNotCoverEachOther(t *testing.T) {
	t.Parallel()
	c := Cut{Sheet: flat(t), Scale: 25_000, Things: Things{Escapes: []CutWay{{Name: "DRAFT E04-1", Points: []geodesy.Grid{at(1480, 1450), at(1490, -2900)}}}}}
	for i := range 24 {
		from, to := at(60*float64(i), 1500+20*float64(i%5)), at(60*float64(i+1), 1500+20*float64((i+1)%5))
		c.Things.Marks = append(c.Things.Marks, CutMark{fmt.Sprintf("Sheepfold below the second wall %d", i+1), from})
		c.Things.Legs = append(c.Things.Legs, CutLeg{Number: i + 1, From: from, To: to, GroundM: 60})
	}
	c.Ground = Ground{madeE - 100, madeN - 3000, madeE + 1500, madeN + 2000}
	d := begun(t, A5, testInfo())
	p := d.AddMapPage()
	pages, err := c.LayOut(d, p.Body)
	if err != nil || pages.Len() < 2 {
		t.Fatalf("%d tiles: %v", pages.Len(), err)
	}
	m := &cutMap{cut: &c, page: p, box: pages.area(p.Body), g: pages.tiles[0].Ground}
	m.reserve()
	m.neighbours(pages.tiles, 0, 1)
	m.placeWords()
	taken, names, escapes := m.signs, 0, 0
	for _, w := range m.words {
		if w.style == numberStyle {
			continue // of a leg of 2.4 mm: beside the leg or nowhere
		}
		for _, b := range taken {
			if w.box.Intersects(b) {
				t.Errorf("%q covers something", w.text)
			}
		}
		taken = append(taken, w.box)
		if w.text == "DRAFT E04-1" {
			escapes++
		} else if names++; !strings.Contains(w.text, "… ") || !strings.HasPrefix(w.text, "Sheepfold") {
			t.Errorf("%q lost its number", w.text)
		}
	}
	if escapes != 1 || names == 0 || names == 24 || !m.unnamed || len(m.onward) == 0 {
		t.Errorf("%d escapes, %d of 24 marks, unnamed %v, %d names of pages", escapes, names, m.unnamed, len(m.onward))
	}
	if words := c.words(reached{unnamed: true}); !strings.Contains(words, "Names that do not fit are left out.") {
		t.Error(words)
	}
}

// TestNoNameHidesWhereAHazardEnds: a name that must stand over the edge of a crag leaves its line
// black.
func TestNoNameHidesWhereAHazardEnds(t *testing.T) {
	t.Parallel()
	c := Cut{Sheet: plain(t, 255), Scale: 25_000, Things: Things{
		Marks:   []CutMark{{"Beinn Orrach pillar", at(1070, 1000)}},
		Hazards: []CutHazard{{Kind: plan.Crag, Points: []geodesy.Grid{at(1150, -4000), at(5000, -4000), at(5000, 6000), at(1150, 6000)}, Closed: true}, {Kind: plan.Crag, Points: []geodesy.Grid{at(990, -4000), at(-5000, -4000), at(-5000, 6000), at(990, 6000)}, Closed: true}},
	}}
	c.Ground = Ground{madeE + 950, madeN + 350, madeE + 1950, madeN + 1650}
	page, box, g := drawnCut(t, c, A5)
	m := cutMap{cut: &c, box: box, g: g}
	for n := 450.0; n < 1550; n += 5 {
		if page.value(m.at(at(990, n))) > 100 || page.value(m.at(at(1150, n))) > 100 {
			t.Errorf("an edge is hidden at %.0f m", n)
		}
	}
}

// A hazard with a hole is drawn as two rings: the slit between them is on none.
func TestSlitsAreNotPrinted(t *testing.T) {
	t.Parallel()
	slit := CutHazard{Kind: plan.Steep, Closed: true, Points: []geodesy.Grid{
		at(0, 0), at(300, 0), at(300, 300), at(121.6, 300), at(121.6, 200), at(200, 200), at(200, 100), at(100, 100), at(100, 200), at(121, 200), at(121, 300), at(0, 300),
	}}
	got := slit.rings()
	if len(got) != 2 || !slices.Equal(got[1], slit.Points[4:10]) || !slices.Equal(got[0], slices.Concat(slit.Points[:4], slit.Points[10:])) {
		t.Errorf("the rings are %v", got)
	}
	thin := CutHazard{Closed: true, Points: []geodesy.Grid{at(0, 0), at(300, 0), at(300, 300), at(600, 300), at(600, 301), at(299, 301), at(299, 1), at(0, 1)}}
	if got := thin.rings(); len(got) != 1 || len(got[0]) != len(thin.Points) {
		t.Errorf("a narrow area has the rings %v", got)
	}
}
