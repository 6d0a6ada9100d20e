package paper

import (
	"fmt"
	"math"
	"slices"

	"legwright/app/terrain"
)

// Stretch is the part of a profile that one leg is.
type Stretch struct {
	Number  int             // of the leg
	Ground  terrain.Profile // along it; the zero Profile without terrain
	LengthM float64         // on the ground, also without terrain
}

// Measures of a profile, millimetres.
const (
	profileLine  = 0.6
	profileWords = 13.0 // for heights at the left
	leastProfile = 25.0 // of the height of its box
	leastStep    = 6.0  // between lines of height, and between kilometres
)

// Profile draws the ground along the legs of a route, one behind the other, with heights at
// the left, the legs' numbers above and kilometres below. Where terrain has no height it is
// hatched and no line is drawn, which would be read as level ground. drawn is false where no
// leg has a height, or the box is too small for figures.
func (p *Page) Profile(box Rect, legs []Stretch) (drawn bool) {
	var list []terrain.Profile
	all := 0.0
	for _, l := range legs {
		list, all = append(list, l.Ground), all+l.LengthM
	}
	span, ok := terrain.SpanOf(list...)
	if !ok || !(all > 0) || box.H < leastProfile || box.W < 3*profileWords {
		return false
	}
	line := Style{}.Height()
	_, area := box.Left(profileWords)
	_, area = area.Top(line)
	words, area := area.Foot(line + p.doc.Tall(profileNote(88.8, true), Style{}, area.W))
	area.W -= line // half of the last kilometre's figure stands beyond
	d := &profileDrawing{p: p, area: area, perM: area.W / all, up: area.H / (1.1 * (span.HighM - span.LowM)), lowM: span.LowM - 0.05*(span.HighM-span.LowM)}
	d.heights(span)
	d.kilometres(all)
	from, free := 0.0, area.X
	for _, l := range legs {
		free = d.leg(l, from, free)
		from += l.LengthM
	}
	p.Frame(area, edgeRule)
	_, note := words.Top(line)
	p.Paragraph(note, Style{}, profileNote(d.up/d.perM, !whole(list)))
	return true
}

// profileDrawing is a profile as it is drawn.
type profileDrawing struct {
	p        *Page
	area     Rect
	perM, up float64 // millimetres for a metre along the way, and up
	lowM     float64 // height at the lower edge
}

func (d *profileDrawing) at(alongM, heightM float64) Point {
	return Point{d.area.X + alongM*d.perM, d.area.Bottom() - (heightM-d.lowM)*d.up}
}

// profileNote says how much steeper than the ground the profile is drawn, and what hatching
// means.
func profileNote(steeper float64, gaps bool) string {
	text := fmt.Sprintf("Heights in m, distance in km; drawn %.2g times as steep as the ground.", steeper)
	if gaps {
		text += " Hatched: heights not known."
	}
	return text
}

func whole(list []terrain.Profile) bool {
	return !slices.ContainsFunc(list, func(p terrain.Profile) bool { return !p.Whole() })
}

// step is the least of 1, 2 and 5 with noughts that is long enough on paper.
func step(perM float64) float64 {
	for tens := 1.0; ; tens *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if k*tens*perM >= leastStep {
				return k * tens
			}
		}
	}
}

// heights draws level lines with their figures.
func (d *profileDrawing) heights(s terrain.Span) {
	gridLines(d.lowM, s.HighM, step(d.up), func(m float64) {
		y := d.at(0, m).Y
		if y < d.area.Y || y > d.area.Bottom() {
			return
		}
		d.p.Stroke([]Point{{d.area.X, y}, {d.area.Right(), y}}, false, Pen{Width: MinRule, Dash: []float64{0.5, 1.5}})
		h := Style{}.Height()
		d.p.Line(Rect{d.area.X - profileWords, y - h/2, profileWords - 1, h}, Style{}, Right, fmt.Sprint(int(math.Round(m))))
	})
}

// kilometres writes how far it is from the start.
func (d *profileDrawing) kilometres(all float64) {
	least := 500.0
	if all < 2*least { // where 0 would stand alone
		least = 100
	}
	gridLines(0, all, max(step(d.perM), least), func(m float64) {
		x := d.at(m, 0).X
		d.p.Rule(Point{x, d.area.Bottom()}, Point{x, d.area.Bottom() + 1}, MinRule)
		d.p.Label(Point{x, d.area.Bottom() + 0.6 + Style{}.Height()/2}, 0, Style{}, false, fmt.Sprintf("%g", m/1000))
	})
}

// leg draws one leg and the upright line at its end, and its number where there is room:
// free is where the number before ended.
func (d *profileDrawing) leg(l Stretch, from, free float64) float64 {
	a, b := d.at(from, 0).X, d.at(from+l.LengthM, 0).X
	d.p.Rule(Point{b, d.area.Y}, Point{b, d.area.Bottom()}, MinRule)
	d.ground(l, from)
	text, s := fmt.Sprint(l.Number), Style{Bold: true}
	w := d.p.doc.Width(text, s)
	if mid := (a + b) / 2; mid-w/2 >= free {
		d.p.Label(Point{mid, d.area.Y - s.Height()/2}, 0, s, false, text)
		return mid + w/2 + 0.8
	}
	return free
}

// ground draws the line of a leg, and hatching where it has no heights.
func (d *profileDrawing) ground(l Stretch, from float64) {
	points := l.Ground.Points
	if len(points) == 0 {
		d.gap(from, from+l.LengthM)
		return
	}
	var run []Point
	for i, p := range points {
		if !math.IsNaN(p.HeightM) {
			run = append(run, d.at(from+p.AlongM, p.HeightM))
			continue
		}
		d.p.Stroke(run, false, Pen{Width: profileLine})
		run = nil
		d.gap(from+points[max(i-1, 0)].AlongM, from+points[min(i+1, len(points)-1)].AlongM)
	}
	d.p.Stroke(run, false, Pen{Width: profileLine})
}

// gap hatches a part of the way that has no heights.
func (d *profileDrawing) gap(from, to float64) {
	a, b := d.at(from, 0).X, d.at(to, 0).X
	box := Rect{a, d.area.Y, max(b-a, MinRule), d.area.H}
	outline := append(box.corners(), box.corners()[0])
	m := &cutMap{page: d.p, box: box}
	d.p.Within(box.corners(), func() { m.hatched(outline, []hatch{{deg: -45, gap: 1.6}}) })
}
