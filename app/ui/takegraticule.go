package ui

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/geodesy"
	"legwright/app/ui/part"
	"legwright/app/units"
)

// graticule is what is asked of lines of latitude and longitude.
type graticule struct {
	names    []lattice.LatLonName
	sys      *geodesy.System
	lat, lon float64 // minutes from line to line
	own      bool    // they are on the grid's own datum, not on WGS 84
}

// graticuleSteps are how far lines of latitude and longitude are apart on maps,
// in minutes (common practice, no source).
func graticuleSteps() []float64 { return []float64{1, 2, 2.5, 5, 10, 15, 20, 30, 60} }

func stepWords(minutes float64) string {
	if minutes == 60 {
		return "1°"
	}
	return fmt.Sprintf("%g′", minutes)
}

// graticuleNames are the control points on crossings of the found lines whose
// references were typed as latitude and longitude.
func (b *Bench) graticuleNames() ([]lattice.LatLonName, *geodesy.System) {
	sheet := b.sheetNow()
	sys, err := b.s.Reader().SystemOf(sheet.Code)
	if err != nil {
		return nil, nil
	}
	var names []lattice.LatLonName
	for _, c := range sheet.Points {
		_, near := b.printed.found.Nearest(c.At)
		r, err := b.s.CheckReference(c.Text)
		if !near || err != nil || r.Read.Kind != geodesy.RefLatLon {
			continue
		}
		if at, _, err := sys.ToWGS84(c.Ref); err == nil {
			names = append(names, lattice.LatLonName{At: c.At, Ref: at})
		}
	}
	return names, sys
}

// askGraticule asks how far the lines are apart and on which datum, and whether
// to take their crossings.
func (b *Bench) askGraticule(g graticule) {
	g.lat = 5
	g.lon = g.likelyLon(b.printed.found)
	state := part.NewSentence("", part.Note)
	show := func() {
		text, tone := b.graticuleWords(g)
		state.Set(text, tone)
	}
	steps := graticuleSteps()
	labels := make([]string, len(steps))
	for i, m := range steps {
		labels[i] = stepWords(m)
	}
	choice := func(to *float64) *widget.Select {
		s := widget.NewSelect(labels, func(t string) { *to = steps[slices.Index(labels, t)]; show() })
		s.SetSelected(stepWords(*to))
		return s
	}
	datums := []string{"WGS 84", "the grid's own datum"}
	datum := widget.NewSelect(datums, func(t string) { g.own = t == datums[1]; show() })
	datum.SetSelected(datums[0])
	body := container.NewVBox(
		wrapped(fmt.Sprintf("%d crossings of latitude and longitude become the control points. The margin says how far the lines are apart, and on which datum they are.", len(b.printed.offer.Crossings))),
		container.NewHBox(widget.NewLabel("Latitude every"), choice(&g.lat), widget.NewLabel("longitude every"), choice(&g.lon)),
		container.NewHBox(widget.NewLabel("They are on"), datum), state)
	b.questionOver("Take the lines of latitude and longitude?", body, nil,
		answer{text: "Leave it"},
		answer{text: "Take the crossings", strong: true, do: func() { b.takeGraticule(g) }})
}

// graticuleWords say what the answers make of the picture.
func (b *Bench) graticuleWords(g graticule) (string, part.Tone) {
	if b.printed.found == nil {
		return "", part.Note
	}
	points, err := g.points(b.printed.found)
	if err != nil {
		return sentence(err), part.Caution
	}
	text := "The meshes have the shape that these lines have there."
	if c, err := calib.Fit(points, calib.Options{Kind: calib.Similarity}); err == nil {
		text += fmt.Sprintf(" A pixel is then %.3g m.", c.MetresPerPixel())
	}
	a, _, errOwn := g.sys.Project(g.names[0].Ref)
	w, _, _, errWGS := g.sys.FromWGS84(g.names[0].Ref)
	if off := math.Hypot(a.E-w.E, a.N-w.N); errOwn == nil && errWGS == nil && off >= 0.5 {
		text += fmt.Sprintf(" On the other datum all would lie %.0f m elsewhere.", off)
	}
	return text, part.Note
}

// points are all crossings as control points.
func (g graticule) points(l *lattice.Lattice) ([]calib.ControlPoint, error) {
	points, err := l.Latitudes(g.names, lattice.Graticule{
		Lat: units.Degrees(g.lat / 60), Lon: units.Degrees(g.lon / 60),
		Project: func(at geodesy.LatLon) (geodesy.Grid, error) {
			if g.own {
				grid, _, err := g.sys.Project(at)
				return grid, err
			}
			grid, _, _, err := g.sys.FromWGS84(at)
			return grid, err
		},
	})
	for i := range points {
		if g.own { // a latitude that is read again is on WGS 84
			e, n := g.sys.InUnits(points[i].Ref)
			points[i].Text = fmt.Sprintf("%.2f %.2f", e, n)
		}
	}
	return points, err
}

// likelyLon is the step of longitude that goes with that of latitude by the
// shape of the meshes, or the same where none does.
func (g graticule) likelyLon(l *lattice.Lattice) float64 {
	for _, m := range graticuleSteps() {
		g.lon = m
		if _, err := g.points(l); err == nil {
			return m
		}
	}
	return g.lat
}

func (b *Bench) takeGraticule(g graticule) {
	if b.printed.found == nil { // another picture came while it was asked
		return
	}
	points, err := g.points(b.printed.found)
	if err == nil {
		points = b.printed.offered(points)
		err = b.s.TakeCrossings(points, b.printed.found.SquarePx/4)
	}
	if b.try(err, fmt.Sprintf("%d crossings are the control points now. The sheet stays unproved until a feature agrees.", len(points))) {
		b.printed.forget()
		b.sheetP.forgetAndRefresh()
	}
}
