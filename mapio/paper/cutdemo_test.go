package paper

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"math"
	"sync"
	"testing"

	"legwright/app/leg"
	"legwright/assets/demo"
	"legwright/mapio/planfile"
	"legwright/mapio/rectify"
)

// demoScan is the demo's scan, read once.
var demoScan = sync.OnceValues(func() (image.Image, error) { return jpeg.Decode(bytes.NewReader(demo.Scan())) })

// demoCut is the demo's sheet as its plan calibrates it, a scan turned by 1.1°, around the
// first legs of its route.
func demoCut(t *testing.T) (Cut, []leg.Row) {
	t.Helper()
	p, err := planfile.Decode(bytes.NewReader(demo.Plan()))
	if err != nil {
		t.Fatal(err)
	}
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	c, err := r.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	scan, err := demoScan()
	if err != nil {
		t.Fatal(err)
	}
	cut := Cut{Scale: 25_000, Sheet: rectify.Sheet{
		Width: scan.Bounds().Dx(), Height: scan.Bounds().Dy(), Cut: rectify.CutOf(scan), System: r.Common(), Calibration: c, DPI: demo.ScanTruth().DPI,
	}}
	at, rows := p.Positions(), r.Legs()
	for i, row := range rows {
		from, to := at.Of(row.FromEnd).Grid, at.Of(row.ToEnd).Grid
		cut.Things.Legs = append(cut.Things.Legs, CutLeg{Number: i + 1, From: from, To: to, GroundM: row.Reading.GroundM})
	}
	return cut, rows
}

// TestDemoCutIsTrue measures the demo's legs on paper against the grid bearings that the
// headless legs write, over a sheet that is soon drawn.
func TestDemoCutIsTrue(t *testing.T) {
	t.Parallel()
	c, rows := demoCut(t)
	if scale, ok := OwnScale(c.Sheet); !ok || scale != 25_000 {
		t.Errorf("the sheet's own scale is 1:%d, want 1:25,000", scale)
	}
	c.Sheet = plain(t, 255)
	first := c
	first.Things.Legs = c.Things.Legs[:2]
	c.Ground, _ = first.Things.Ground(200)
	m := measure(t, c)
	m.checkKilometres(t)
	seen := 0
	for i, row := range rows {
		l := c.Things.Legs[i]
		if g := c.Ground; row.Reading.GridM < 500 || !g.Holds(l.From) || !g.Holds(l.To) {
			continue
		}
		seen++
		m.checkLeg(t, l)
		drawn := math.Atan2(l.To.E-l.From.E, l.To.N-l.From.N)
		if off := math.Remainder(drawn-float64(row.Reading.Grid), 2*math.Pi) * 180 / math.Pi; math.Abs(off) > 1e-6 {
			t.Errorf("leg %d is given to the map %g° aside of its reading", i+1, off)
		}
	}
	if seen == 0 {
		t.Error("no leg of 500 m is on the map")
	}
}

// TestDemoLinesLandOnTheGrid finds the kilometre lines printed on the demo's sheet in the
// picture that is put on paper.
func TestDemoLinesLandOnTheGrid(t *testing.T) {
	t.Parallel()
	c, _ := demoCut(t)
	g := Ground{24_900, 742_600, 26_100, 742_900}
	got, err := c.picture(context.Background(), Tile{Ground: g}, Rect{0, 0, 48, 12}, &canvas{})
	if err != nil {
		t.Fatal(err)
	}
	m, err := jpeg.Decode(bytes.NewReader(got.file))
	if err != nil {
		t.Fatal(err)
	}
	for _, km := range []float64{25_000, 26_000} {
		if mm := darkestColumn(m, got.box, c.mm(km-g.West)); math.Abs(mm) > mostKmOff {
			t.Errorf("the printed line %g km east lies %.3f mm aside on paper", km/1000, mm)
		} else {
			t.Logf("%g km: %+.3f mm", km/1000, mm)
		}
	}
}

// darkestColumn is how far from a column of the picture, at most 1 mm, the line is that is
// darkest along all rows, in millimetres on paper.
func darkestColumn(m image.Image, box Rect, at float64) (off float64) {
	perMM := float64(m.Bounds().Dx()) / box.W
	least := math.Inf(1)
	for x := int((at - 1) * perMM); x <= int((at+1)*perMM); x++ {
		sum := 0.0
		for y := range m.Bounds().Dy() {
			r, g, b, _ := m.At(x, y).RGBA()
			sum += float64(r + g + b)
		}
		if sum < least {
			least, off = sum, (float64(x)+0.5)/perMM-at
		}
	}
	return off
}
