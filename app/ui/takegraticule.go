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
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// graticule is what is asked of lines of latitude and longitude.
type graticule struct {
	names    []lattice.LatLonName
	sys      *geodesy.System
	lat, lon float64 // minutes from line to line, 0 while unknown
	own      bool    // they are on the grid's own datum, not on WGS 84
	medium   calib.Medium
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
		_, near := b.printed.found.On(c.At)
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

// askGraticule asks how far the lines are apart, unless the names tell it, on
// which datum they are, and whether to use their intersections.
func (b *Bench) askGraticule(g graticule) {
	g.medium = b.sheetNow().Medium
	told := g.lattice()
	if err := b.printed.found.Steps(g.names, &told); err != nil {
		b.refuse("These lines of latitude and longitude cannot be used", err)
		return
	}
	state := widgets.NewSentence("", widgets.Note)
	var lat, lon *widget.Select
	show := func() {
		if g.lat > 0 && g.lon == 0 {
			if g.lon = g.likelyLon(b.printed.found); g.lon > 0 {
				lon.SetSelected(lattice.MinuteWords(g.lon))
				return
			}
		}
		text, tone := b.graticuleWords(g)
		state.Set(text, tone)
	}
	lat, lon = stepChoice(&g.lat, show), stepChoice(&g.lon, show)
	datums := []string{"WGS 84", "the grid's own datum"}
	datum := widget.NewSelect(datums, func(t string) { g.own = t == datums[1]; show() })
	datum.SetSelected(datums[0])
	for _, s := range []struct {
		choice *widget.Select
		told   units.Angle
	}{{lat, told.Lat}, {lon, told.Lon}} {
		if s.told > 0 {
			s.choice.SetSelected(lattice.MinuteWords(60 * s.told.Deg()))
		}
	}
	body := container.NewVBox(
		widgets.NewWrapped(fmt.Sprintf("%d intersections of latitude and longitude become the control points. The margin says how far the lines are apart, and on which datum they are.", len(b.printed.offer.Crossings))),
		container.NewHBox(widget.NewLabel("Latitude every"), lat, widget.NewLabel("longitude every"), lon),
		container.NewHBox(widget.NewLabel("They are on"), datum), state)
	b.questionOver("Use the lines of latitude and longitude?", body, nil,
		answer{text: "Cancel"},
		answer{text: "Use the intersections", strong: true, do: func() { b.takeGraticule(g) }})
}

// stepChoice asks for minutes from line to line.
func stepChoice(to *float64, show func()) *widget.Select {
	steps := lattice.UsualMinutes()
	labels := make([]string, len(steps))
	for i, m := range steps {
		labels[i] = lattice.MinuteWords(m)
	}
	s := widget.NewSelect(labels, func(t string) { *to = steps[slices.Index(labels, t)]; show() })
	s.PlaceHolder = "choose"
	return s
}

// graticuleWords say what the answers make of the picture.
func (b *Bench) graticuleWords(g graticule) (string, widgets.Tone) {
	if b.printed.found == nil {
		return "", widgets.Note
	}
	if g.lat == 0 || g.lon == 0 {
		return "Choose how far apart the lines are: read it in the margin.", widgets.Note
	}
	points, err := g.points(b.printed.found)
	if err != nil {
		return foot.Sentence(err), widgets.Caution
	}
	text := "Their shape is that of latitude and longitude there."
	if c, err := calib.Fit(points, calib.Options{}); err == nil {
		text += " " + sheetWords(b.sheetNow(), c.MetresPerPixel())
	}
	a, _, errOwn := g.sys.Project(g.names[0].Ref)
	w, _, _, errWGS := g.sys.FromWGS84(g.names[0].Ref)
	if off := math.Hypot(a.E-w.E, a.N-w.N); errOwn == nil && errWGS == nil && off >= 0.5 {
		text += fmt.Sprintf(" On the other datum every position would move by %.0f m.", off)
	}
	return text, widgets.Note
}

// points are all crossings as control points.
func (g graticule) points(l *lattice.Lattice) ([]calib.ControlPoint, error) {
	points, err := l.Latitudes(g.names, g.lattice())
	for i := range points {
		if g.own { // a latitude that is read again is on WGS 84
			e, n := g.sys.InUnits(points[i].Ref)
			points[i].Text = fmt.Sprintf("%.2f %.2f", e, n)
		}
	}
	return points, err
}

// lattice is what is known of the lines.
func (g graticule) lattice() lattice.Graticule {
	return lattice.Graticule{
		Lat: units.Degrees(g.lat / 60), Lon: units.Degrees(g.lon / 60), Medium: g.medium,
		Project: func(at geodesy.LatLon) (geodesy.Grid, error) {
			if g.own {
				grid, _, err := g.sys.Project(at)
				return grid, err
			}
			grid, _, _, err := g.sys.FromWGS84(at)
			return grid, err
		},
	}
}

// likelyLon is the step of longitude that goes with that of latitude by the
// shape of the meshes, 0 where none does.
func (g graticule) likelyLon(l *lattice.Lattice) float64 {
	for _, m := range lattice.UsualMinutes() {
		g.lon = m
		if _, err := g.points(l); err == nil {
			return m
		}
	}
	return 0
}

func (b *Bench) takeGraticule(g graticule) {
	if b.printed.found == nil { // another picture came while it was asked
		return
	}
	if g.lat == 0 || g.lon == 0 {
		b.askGraticule(g)
		b.say("Choose how far apart the lines are: read it in the margin.")
		return
	}
	points, err := g.points(b.printed.found)
	if err == nil {
		points = b.printed.offered(points)
		err = b.s.TakeCrossings(points, b.printed.found.OnPx())
	}
	if b.try(err, fmt.Sprintf("%d grid intersections are the control points now. Check the sheet with a feature that was not used for it.", len(points))) {
		b.printed.forget()
		b.sheetP.forgetAndRefresh()
	}
}
