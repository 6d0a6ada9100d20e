package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// reached says what a part of the ground lacks: where the control points do not reach,
// where the sheet has ended, and names without room.
type reached struct{ struck, white, unnamed bool }

// reached looks at points all over some ground.
func (c *Cut) reached(g Ground) (out reached) {
	c.look(g, func(_ geodesy.Grid, p calib.PicturePt, within, trusted bool) {
		out.white = out.white || !within
		out.struck = out.struck || within && !trusted
	})
	return out
}

// words are what stands below each map.
func (c *Cut) words(r reached) string {
	unit := "figures in km"
	if u := c.Sheet.System.Unit(); u.Metres != 1 {
		unit = "figures in " + u.Plural()
	}
	out := []string{
		fmt.Sprintf("1:%s: 1 cm is %s. Grid north is up. Grid lines every %s, %s on %s.",
			thousands(c.Scale), lengthWords(float64(c.Scale)/100), lengthWords(c.squareM()), unit, c.Sheet.System),
	}
	if len(c.Things.Legs) > 0 {
		out = append(out, fmt.Sprintf("Ticks across a leg: every %g m.", c.tickM()))
	}
	out = append(out, c.Words...)
	if r.struck {
		out = append(out, "Do not trust what is struck through: it is outside the control points.")
	}
	if r.unnamed && !r.struck { // in whose room it stands
		out = append(out, "Names that do not fit are left out.")
	}
	if r.white {
		out = append(out, "White areas are beyond the edge of the sheet.")
	}
	return strings.Join(out, " ")
}

func lengthWords(m float64) string {
	if m >= 1000 {
		return fmt.Sprintf("%g km", m/1000)
	}
	return fmt.Sprintf("%.4g m", m)
}

// key is a row of the key to lines.
type key struct {
	name  string
	ink   ink
	area  bool // it is drawn as an area
	ticks bool
}

// keys are those kinds of lines that the cut has.
func (c *Cut) keys() (out []key) {
	t := &c.Things
	if slices.ContainsFunc(t.Legs, func(l CutLeg) bool { return !l.Stopped }) {
		out = append(out, key{name: "leg", ink: legInk, ticks: true})
	}
	if slices.ContainsFunc(t.Escapes, func(e CutWay) bool { return !e.Stopped }) {
		out = append(out, key{name: "escape", ink: escapeInk})
	}
	if slices.ContainsFunc(t.Legs, func(l CutLeg) bool { return l.Stopped }) {
		out = append(out, key{name: "leg: do not walk", ink: legStop, ticks: true})
	}
	if slices.ContainsFunc(t.Escapes, func(e CutWay) bool { return e.Stopped }) {
		out = append(out, key{name: "escape: do not walk", ink: escapeStop})
	}
	for _, k := range plan.HazardKinds() {
		if i := slices.IndexFunc(t.Hazards, func(h CutHazard) bool { return h.Kind == k }); i >= 0 {
			out = append(out, key{name: k.String(), ink: hazardInk(k), area: t.Hazards[i].Closed})
		}
	}
	for _, g := range plan.AreaGrounds() {
		if slices.ContainsFunc(t.Areas, func(a CutArea) bool { return a.Ground == g }) {
			out = append(out, key{name: "ground: " + g.String(), ink: areaInk(g), area: true})
		}
	}
	if slices.ContainsFunc(t.Havens, func(h CutHaven) bool { return len(h.Points) > 1 }) {
		out = append(out, key{name: "haven", ink: havenInk})
	}
	if slices.ContainsFunc(t.Lines, func(l CutLine) bool { return !l.Catching }) {
		out = append(out, key{name: "line to follow", ink: followInk})
	}
	if slices.ContainsFunc(t.Lines, func(l CutLine) bool { return l.Catching }) {
		out = append(out, key{name: "catching feature", ink: catchingInk})
	}
	return out
}

// Measures of the foot, millimetres.
const (
	sample  = 9.0 // long, in the key
	keyGap  = 1.4
	keyTall = 5.0
	barMost = 55.0
	barTall = 6.0
)

// keyRows breaks the key into rows of a width.
func (l *CutPages) keyRows(w float64) (rows [][]key) {
	x := w
	for _, k := range l.keys {
		wide := sample + 3*keyGap + l.doc.Width(k.name, Style{})
		if x+wide > w {
			rows, x = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], k)
		x += wide
	}
	return rows
}

// footTall is the height of scale bar, key and words in a width.
func (l *CutPages) footTall(w float64) float64 {
	return barTall + keyTall*float64(len(l.keyRows(w))) + l.doc.Tall(l.cut.words(reached{struck: true, white: true}), Style{}, w)
}

// foot draws scale bar, key and words from the top of a box.
func (l *CutPages) foot(p *Page, box Rect, words string) {
	bar, rest := box.Top(barTall)
	l.bar(p, bar)
	for _, row := range l.keyRows(box.W) {
		var line Rect
		line, rest = rest.Top(keyTall)
		for _, k := range row {
			var cell Rect
			cell, line = line.Left(sample + 3*keyGap + l.doc.Width(k.name, Style{}))
			k.draw(p, cell)
		}
	}
	p.Paragraph(rest, Style{}, words)
}

// draw draws a row of the key: a sample of the line, and its name.
func (k key) draw(p *Page, cell Rect) {
	left, rest := cell.Left(sample)
	_, left = left.Left(keyGap)
	m := &cutMap{page: p, box: left}
	y := left.Centre().Y
	if k.area {
		area := Rect{left.X, left.Y + 0.8, left.W, left.H - 1.6}
		outline := append(area.corners(), area.corners()[0])
		p.Within(area.corners(), func() { m.hatched(outline, k.ink.hatch) })
		m.inked(outline, k.ink.pens...)
	} else {
		m.line([]Point{{left.X, y}, {left.Right(), y}}, k.ink)
		if k.ticks {
			m.across([]Point{{left.X, y}, {left.Right(), y}}, sample/3, tickLong, legTick)
		}
	}
	_, rest = rest.Left(keyGap)
	p.Line(rest, Style{}, Left, k.name)
}

// bar draws a scale bar, black and white in turn, with figures.
func (l *CutPages) bar(p *Page, box Rect) {
	step := barStep(l.cut.metres(min(barMost, box.W-20)))
	mm := l.cut.mm(step)
	n := int(min(barMost, box.W-20) / mm)
	const thick, top = 1.6, 0.4
	for i := range n {
		part := Rect{box.X + 2 + float64(i)*mm, box.Y + top, mm, thick}
		if p.Frame(part, MinRule); i%2 == 0 {
			p.Fill(part.corners(), false)
		}
	}
	figures, unit := 1.0, " m"
	if step*float64(n) >= 2000 {
		figures, unit = 1000, " km"
	}
	for i := 0; i <= n; i++ {
		text := fmt.Sprintf("%g", step*float64(i)/figures)
		at := Point{box.X + 2 + float64(i)*mm, box.Y + top + thick + Style{}.Height()/2}
		if i == n {
			text += unit
			at.X += p.doc.Width(unit, Style{}) / 2
		}
		p.Label(at, 0, Style{}, false, text)
	}
}

// barStep is the length of a part of a scale bar of at most m metres, of which it has two
// to five: 1, 2 or 5 with noughts.
func barStep(m float64) float64 {
	tens := math.Pow(10, math.Floor(math.Log10(m/2)))
	for _, k := range []float64{5, 2} {
		if k*tens <= m/2 {
			return k * tens
		}
	}
	return tens
}
