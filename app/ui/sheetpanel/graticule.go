package sheetpanel

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/geodesy"
	"legwright/app/ui/ask"
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

// latLonNames are the control points on intersections of the found lines whose
// references were typed as latitude and longitude.
func (g *FoundGrid) latLonNames() ([]lattice.LatLonName, *geodesy.System) {
	sheet := sheetOf(g.n.Session)
	sys, err := g.n.Session.Reader().SystemOf(sheet.Code)
	if err != nil {
		return nil, nil
	}
	var names []lattice.LatLonName
	for _, c := range sheet.Points {
		_, near := g.found.On(c.At)
		r, err := g.n.Session.CheckReference(c.Text)
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
func (g *FoundGrid) askGraticule(of graticule) {
	of.medium = sheetOf(g.n.Session).Medium
	told := of.lattice()
	if err := g.found.Steps(of.names, &told); err != nil {
		g.n.Ask.Refuse("These lines of latitude and longitude cannot be used", err)
		return
	}
	state, off := widgets.NewSentence("", widgets.Note), newAstray(g.n)
	var lat, lon *widgets.Select
	show := func() {
		if of.lat > 0 && of.lon == 0 {
			if of.lon = of.likelyLon(g.found); of.lon > 0 {
				lon.SetSelected(lattice.MinuteWords(of.lon))
				return
			}
		}
		state.Set(g.graticuleWords(of))
		if g.found != nil && of.lat > 0 && of.lon > 0 {
			all, _ := of.points(g.found) // state shows the error
			off.show(all, g.found.OnPx())
		}
	}
	lat, lon = g.stepChoice(&of.lat, show), g.stepChoice(&of.lon, show)
	datums := []string{"WGS 84", "the grid's own datum"}
	datum := g.n.Ask.Select(datums, func(t string) { of.own = t == datums[1]; show() })
	datum.SetSelected(datums[0])
	for _, s := range []struct {
		choice *widgets.Select
		told   units.Angle
	}{{lat, told.Lat}, {lon, told.Lon}} {
		if s.told > 0 {
			s.choice.SetSelected(lattice.MinuteWords(60 * s.told.Deg()))
		}
	}
	body := container.NewVBox(
		widgets.NewWrapped(fmt.Sprintf("%d intersections of latitude and longitude become the control points. The margin says how far apart the lines are, and on which datum.", len(g.offer.Intersections))),
		container.NewHBox(widget.NewLabel("Latitude every"), lat, widget.NewLabel("longitude every"), lon),
		container.NewHBox(widget.NewLabel("Datum"), datum), state, off.body)
	g.n.Ask.QuestionOver("Use the lines of latitude and longitude?", body, nil,
		ask.Answer{Text: "Cancel"}, ask.Answer{Text: "Use the intersections", Do: func() { g.takeGraticule(of, off.moves()) }, Default: true})
}

// stepChoice asks for minutes from line to line.
func (g *FoundGrid) stepChoice(to *float64, show func()) *widgets.Select {
	steps := lattice.UsualMinutes()
	labels := make([]string, len(steps))
	for i, m := range steps {
		labels[i] = lattice.MinuteWords(m)
	}
	return g.n.Ask.Select(labels, func(t string) { *to = steps[slices.Index(labels, t)]; show() })
}

// graticuleWords say what the answers make of the picture.
func (g *FoundGrid) graticuleWords(of graticule) (string, widgets.Tone) {
	if g.found == nil {
		return "", widgets.Note
	}
	if of.lat == 0 || of.lon == 0 {
		return "Choose how far apart the lines are: read it in the margin.", widgets.Note
	}
	points, err := of.points(g.found)
	if err != nil {
		return sentence(err), widgets.Caution
	}
	text := "The lines have the shape of latitude and longitude in this area."
	if c, err := calib.Fit(points, calib.Options{}); err == nil {
		text += " " + sheetWords(sheetOf(g.n.Session), c.MetresPerPixel())
	}
	a, _, errOwn := of.sys.Project(of.names[0].Ref)
	w, _, _, errWGS := of.sys.FromWGS84(of.names[0].Ref)
	if off := math.Hypot(a.E-w.E, a.N-w.N); errOwn == nil && errWGS == nil && off >= 0.5 {
		text += fmt.Sprintf(" On the other datum every position would move by %.0f m.", off)
	}
	return text, widgets.Note
}

// points are all intersections as control points.
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
// shape of the cells, 0 where none does.
func (g graticule) likelyLon(l *lattice.Lattice) float64 {
	for _, m := range lattice.UsualMinutes() {
		g.lon = m
		if _, err := g.points(l); err == nil {
			return m
		}
	}
	return 0
}

func (g *FoundGrid) takeGraticule(of graticule, move bool) {
	if g.found == nil { // another picture came while it was asked
		return
	}
	if of.lat == 0 || of.lon == 0 {
		g.askGraticule(of)
		g.n.Foot.Say("Choose how far apart the lines are: read it in the margin.")
		return
	}
	points, err := of.points(g.found)
	if err == nil {
		points = g.offered(points)
	}
	g.takeAll(points, move, err)
}
