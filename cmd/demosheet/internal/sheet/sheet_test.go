package sheet

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"runtime"
	"sync"
	"testing"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

// country builds the ground once for all tests; it takes some ten seconds.
var country = sync.OnceValue(ground.Build)

func longTest(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("builds the whole ground: left out with -short")
	}
	t.Parallel()
}

func TestEveryContourIsWhole(t *testing.T) {
	longTest(t)
	for z := 0; z < 480; z += 10 {
		for _, l := range country().Height.Contours(float64(z) + 0.01) {
			if !l.Closed() {
				t.Errorf("%d m: got a broken line of %.0f m, want rings only: all land lies inside the frame", z, l.Length())
			}
		}
	}
}

func TestStreamsRunDownhill(t *testing.T) {
	longTest(t)
	if n := len(country().Streams); n < 40 {
		t.Fatalf("got %d streams, want at least 40", n)
	}
	for i, s := range country().Streams {
		top, foot := country().Height.At(s.Line[0]), country().Height.At(s.Line[len(s.Line)-1])
		if foot > top+0.5 {
			t.Errorf("stream %d: got %.1f m at its head and %.1f m at its foot", i, top, foot)
		}
	}
}

func TestLegsKeepOffCragsAndWater(t *testing.T) {
	longTest(t)
	const clearM = 25
	at := map[string]ground.Point{}
	for _, m := range demo.Marks() {
		at[m.Name] = ground.Point{X: m.E - demo.West, Y: m.N - demo.South}
	}
	for _, l := range demo.Legs() {
		a, b := at[l.From], at[l.To]
		n := int(a.Dist(b) / 5)
		for i := range n + 1 {
			f := float64(i) / float64(n)
			p := ground.Point{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
			for turn := range 8 {
				s, c := math.Sincos(float64(turn) * math.Pi / 4)
				q := ground.Point{X: p.X + clearM*c, Y: p.Y + clearM*s}
				if country().Crag.At(q) > 0 {
					t.Errorf("%s to %s: crag %d m from the line, %.0f m from its start", l.From, l.To, clearM, f*a.Dist(b))
				}
			}
			if i > 2 && i < n-2 && country().Wet(p) {
				t.Errorf("%s to %s: water on the line %.0f m from its start", l.From, l.To, f*a.Dist(b))
			}
		}
	}
}

func TestMarksStandOnTheirFeatures(t *testing.T) {
	longTest(t)
	g := country()
	for _, m := range demo.Marks() {
		p := ground.Point{X: m.E - demo.West, Y: m.N - demo.South}
		if g.Height.At(p) <= 0 {
			t.Errorf("%s: got %.1f m, want land", m.Name, g.Height.At(p))
		}
		switch m.Feature {
		case demo.TrigPillar:
			for turn := range 16 {
				s, c := math.Sincos(float64(turn) * math.Pi / 8)
				if q := (ground.Point{X: p.X + 60*c, Y: p.Y + 60*s}); g.Height.At(q) >= g.Height.At(p) {
					t.Errorf("%s: higher ground 60 m away, want a top", m.Name)
				}
			}
		case demo.Outflow:
			best := math.Inf(1)
			for _, l := range g.Lakes {
				best = math.Min(best, l.Outlet.Dist(p))
			}
			if best > 15 {
				t.Errorf("%s: got %.0f m to the nearest outlet, want 15", m.Name, best)
			}
		case demo.Col:
			if n := signChanges(g.Height, p, 60); n != 4 {
				t.Errorf("%s: got %d changes between higher and lower round it, want 4", m.Name, n)
			}
		}
	}
}

// signChanges counts how often the ground on a ring of r metres passes the height of its middle.
func signChanges(f *ground.Field, p ground.Point, r float64) int {
	n, z := 0, f.At(p)
	higher := func(i int) bool {
		s, c := math.Sincos(float64(i) * 2 * math.Pi / 72)
		return f.At(ground.Point{X: p.X + r*c, Y: p.Y + r*s}) > z
	}
	for i := range 72 {
		if higher(i) != higher(i+1) {
			n++
		}
	}
	return n
}

// drawn draws the sheet once for all tests.
var drawn = sync.OnceValues(func() (*maker, error) { return compose(country()) })

func TestTextsKeepClearOfEachOther(t *testing.T) {
	longTest(t)
	m, err := drawn()
	if err != nil {
		t.Fatal(err)
	}
	if len(m.texts) < 80 {
		t.Fatalf("got %d texts, want at least 80", len(m.texts))
	}
	spots := make([][]ink.Pt, len(m.texts))
	for i, x := range m.texts {
		spots[i] = m.trace(x)
	}
	for i, a := range m.texts {
		for j, b := range m.texts[:i] {
			room := 0.36 * (a.size + b.size)
			if d := gap(spots[i], spots[j]); d < room {
				t.Errorf("%q and %q: got %.0f px between their middle lines, want %.0f", a.text, b.text, d, room)
			}
		}
		for _, p := range spots[i] {
			if x0, y0, x1, y1 := m.frameBox(); p.X < x0 || p.X > x1 || p.Y < y0 || p.Y > y1 {
				t.Errorf("%q: runs out of the frame at %.0f, %.0f", a.text, p.X, p.Y)
				break
			}
		}
	}
}

// trace returns points along the middle of a text's small letters.
func (m *maker) trace(x lettering) []ink.Pt {
	h := m.hand(x.kind)
	width := h.face.Width(x.text, x.size, h.spacing)
	var out []ink.Pt
	for s := 0.0; s <= width; s += 6 {
		p, dir := ink.At(x.path, x.from+s)
		lift := 0.3 * x.size
		if x.kind == contourFigure {
			lift = 0
		}
		out = append(out, ink.Pt{X: p.X + lift*math.Sin(dir), Y: p.Y - lift*math.Cos(dir)})
	}
	return out
}

func gap(a, b []ink.Pt) float64 {
	best := math.Inf(1)
	for _, p := range a {
		for _, q := range b {
			best = math.Min(best, math.Hypot(p.X-q.X, p.Y-q.Y))
		}
	}
	return best
}

// TestCommittedSheetIsWhatIsDrawn draws the sheet again and compares it with the embedded file. Only
// on amd64: other processors may fuse multiplications and differ in the last bit.
func TestCommittedSheetIsWhatIsDrawn(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("the committed sheet was drawn on amd64")
	}
	longTest(t)
	m, err := drawn()
	if err != nil {
		t.Fatal(err)
	}
	data, err := ink.EncodePNG(m.c.Pic, demo.SheetTruth().DPI)
	if err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	want, err := png.Decode(bytes.NewReader(demo.Sheet()))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.(*image.Paletted).Pix, want.(*image.Paletted).Pix) {
		t.Error("the embedded sheet is not what the drawing makes: run go run ./cmd/demosheet")
	}
}
