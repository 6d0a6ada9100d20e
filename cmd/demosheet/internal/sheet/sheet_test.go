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
