package card

import (
	"bytes"
	"context"
	"encoding/json"
	"image"
	"math"
	"os"
	"runtime"
	"runtime/debug"
	"syscall"
	"testing"
	"time"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/paper"
	"legwright/mapio/rectify"
)

// largePlan has 30 legs of 500 m and more to and fro on a sheet of 100 megapixels, turned
// by 3°, of 1.7 m a pixel.
func largePlan(side int) *plan.Plan {
	const west, south = 30_000.0, 720_000.0
	sin, cos := math.Sincos(3 * math.Pi / 180)
	sheet := plan.Sheet{ID: "s1", Picture: "large.png", Width: side, Height: side, DPI: 374, Code: geodesy.EPSG(27700), Medium: calib.Drawn}
	for _, p := range [][2]float64{{1000, 1000}, {15_000, 1000}, {15_000, 15_000}, {1000, 15_000}, {8000, 8000}} {
		sheet.Points = append(sheet.Points, calib.ControlPoint{
			At:  calib.PicturePt{Col: 300 + (p[0]*cos+p[1]*sin)/1.7, Row: float64(side) - 300 - (p[1]*cos-p[0]*sin)/1.7},
			Ref: geodesy.Grid{E: west + p[0], N: south + p[1]},
		})
	}
	p := plan.New(plan.Date{Year: 2026, Month: time.November, Day: 28}).SetTitle("A long round").SetSheet(sheet)
	at := func(i int) plan.End {
		row, col := i/8, i%8
		if row%2 == 1 {
			col = 7 - col
		}
		g := geodesy.Grid{E: west + 2000 + 1500*float64(col), N: south + 2000 + 3400*float64(row) + 90*float64(col)}
		return plan.End{Position: plan.Position{Grid: g, Code: geodesy.EPSG(27700), Origin: plan.Typed}}
	}
	for i := range 30 {
		p = p.AddLeg(plan.Leg{ID: p.NextID(plan.OfLeg), From: at(i), To: at(i + 1), TickOff: "wall, then a stream", Catching: "the ground falls away"})
	}
	return p
}

// picture is a picture as a decoder gives it.
func picture(side int) *image.YCbCr {
	m := image.NewYCbCr(image.Rect(0, 0, side, side), image.YCbCrSubsampleRatio420)
	for i := range m.Y {
		m.Y[i] = byte(215 + (i*7919>>9)%32 - 150*((i%side/40+i/side/55)&7/7))
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = 120, 132
	}
	return m
}

// peakMB is the most memory that the process has had.
func peakMB(t *testing.T) float64 {
	t.Helper()
	var use syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &use); err != nil {
		t.Fatal(err)
	}
	return float64(use.Maxrss) * 1024 / 1e6
}

// TestTenPages prints a card with maps of a sheet of 100 megapixels, where LEGWRIGHT_FIGURES
// names a file, and leaves there the seconds that ten of its pages take and the memory
// above that of the open plan.
func TestTenPages(t *testing.T) {
	file, side := os.Getenv("LEGWRIGHT_FIGURES"), 10_000
	if file == "" {
		t.Skip("LEGWRIGHT_FIGURES names no file: nothing is measured")
	}
	r, err := leg.NewReader(largePlan(side))
	if err != nil {
		t.Fatal(err)
	}
	s, m := Source{Reader: r}, picture(side)
	runtime.GC()
	before := peakMB(t)
	defer debug.SetGCPercent(debug.SetGCPercent(15)) // as the program has it
	var pdf []byte
	run := testing.Benchmark(func(b *testing.B) {
		for b.Loop() {
			c := contentOf(b, s)
			maps, err := c.Maps(s, 25_000, func(plan.Sheet) (Picture, error) { return Picture{Cut: rectify.CutOf(m)}, nil })
			if err != nil {
				b.Fatal(err)
			}
			if pdf, err = c.Hill(context.Background(), Print{Size: paper.A4, Maps: maps}); err != nil {
				b.Fatal(err)
			}
		}
	})
	took, pages := run.T.Seconds()/float64(run.N), bytes.Count(pdf, []byte("/Type /Page\n"))
	if pages < 10 {
		t.Fatalf("only %d pages", pages)
	}
	figures := map[string]float64{"seconds": took * 10 / float64(pages), "mb": peakMB(t) - before}
	t.Logf("%d pages, %d MB of PDF: %.2f s for ten, %.0f MB above the open plan's %.0f", pages, len(pdf)>>20, figures["seconds"], figures["mb"], before)
	data, err := json.Marshal(figures)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
}
