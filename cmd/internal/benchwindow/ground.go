package main

import (
	"errors"
	"fmt"
	"math"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui"
	"legwright/canvas/view"
)

// waitSharp waits until the sheet is shown at its own level.
func waitSharp(b *ui.Bench) {
	for until := time.Now().Add(2 * time.Minute); time.Now().Before(until); time.Sleep(5 * time.Millisecond) {
		sharp := false
		fyne.DoAndWait(func() { sharp = !b.Sheet().View().IsZero() && b.Sheet().Missing() == 0 })
		if sharp {
			return
		}
	}
	fail(errors.New("the sheet did not get sharp"))
}

// waitShown waits until the sharp sheet has been painted too. The toolkit
// tells nobody of a frame: it paints what has changed at its next tick, of
// which there are sixty a second, and does nothing else until it has.
func waitShown(b *ui.Bench) {
	waitSharp(b)
	time.Sleep(time.Second / 60)
	time.Sleep(time.Second / 60)
	fyne.DoAndWait(func() {})
}

// calibrate lays the sheet on a grid: its lower left corner at E 220,000
// N 740,000, half a metre a pixel.
func calibrate(b *ui.Bench) {
	p := *b.Session().Plan()
	sheet, ok := p.Sheet()
	if !ok {
		fail(errors.New("there is no sheet to calibrate"))
	}
	sheet.Code, sheet.Fit, sheet.Points = geodesy.EPSG(27700), calib.Auto, nil
	w, h := float64(sheet.Width), float64(sheet.Height)
	for _, c := range [][2]float64{{0, 0}, {w, 0}, {0, h}, {w, h}} {
		ref := geodesy.Grid{E: 220000 + c[0]/2, N: 740000 + (h-c[1])/2}
		sheet.Points = append(sheet.Points, calib.ControlPoint{
			At: picture(c[0], c[1]), Ref: ref, Text: fmt.Sprintf("%.0f %.0f", ref.E, ref.N),
		})
	}
	if err := b.Session().Use(p.SetSheet(sheet)); err != nil {
		fail(err)
	}
}

// addLegs brings n legs, each some 30 screen pixels long, onto what is seen of
// the sheet.
func addLegs(b *ui.Bench, n int) {
	s := b.Session()
	c, err := s.Calibration()
	if err != nil {
		fail(err)
	}
	v := b.Sheet().View()
	w, h := v.Viewport()
	grid := func(x, y float64) geodesy.Grid {
		at := v.ToPicture(view.ScreenPt{X: x, Y: y})
		return c.ToGrid(picture(at.X, at.Y))
	}
	p := *s.Plan()
	p.Legs = nil
	for i := range n {
		x := float64(w) * (0.1 + 0.8*float64(i%20)/20)
		y := float64(h) * (0.1 + 0.8*float64(i/20)/float64(n/20))
		from, to := grid(x, y), grid(x+28, y+20*math.Sin(float64(i)))
		p.Legs = append(p.Legs, plan.Leg{
			ID:   plan.ID(fmt.Sprintf("bench-%d", i)),
			From: end(p.Sheets[0].Code, from), To: end(p.Sheets[0].Code, to),
		})
	}
	if err := s.Use(&p); err != nil {
		fail(err)
	}
}

func end(code geodesy.Code, g geodesy.Grid) plan.End {
	return plan.AtPosition(plan.ImportedAt(code, g, 5))
}

func picture(x, y float64) calib.PicturePt { return calib.PicturePt{Col: x, Row: y} }
