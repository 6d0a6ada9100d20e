package paper

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"legwright/app/geodesy"
)

// Type on the map.
var (
	numberStyle = Style{Pt: 12, Bold: true}
	nameStyle   = Style{Pt: 10, Bold: true}
	plainStyle  = Style{}
)

const (
	longestName = 45.0 // millimetres; a longer name ends in "…"
	plateWide   = 0.4  // of white at both ends of a text, millimetres
)

// mapWord is a text on the map.
type mapWord struct {
	at    Point // its middle
	style Style
	text  string
	box   orb.Bound
}

// plates lays white under the words, so that the map does not run into their letters. What
// is drawn after them stands on the white too.
func (m *cutMap) plates() {
	for _, w := range m.words {
		half, tall := m.page.doc.Width(w.text, w.style)/2+plateWide, 0.4*w.style.Height()
		m.page.Fill(Rect{w.at.X - half, w.at.Y - tall, 2 * half, 2 * tall}.corners(), true)
	}
}

func (m *cutMap) write() {
	for _, w := range m.words {
		m.page.Label(w.at, 0, w.style, false, w.text)
	}
}

// placeWords finds room for numbers and names. Those of the route come first. Numbers of legs and names
// of escapes always stand; those of marks and havens unless they would cover a word or a sign, those
// of other things where they cover nothing.
func (m *cutMap) placeWords() {
	t := &m.cut.Things
	for _, l := range t.Legs {
		text := fmt.Sprint(l.Number)
		if l.Stopped {
			text = "! " + text
		}
		m.onWay(m.points([]geodesy.Grid{l.From, l.To}, false), numberStyle, text, true)
	}
	for _, e := range t.Escapes {
		m.onWay(m.points(e.Points, false), nameStyle, e.Name, true)
	}
	for _, k := range t.Marks {
		m.around(m.at(k.At), k.Name)
	}
	for _, e := range t.Ends {
		m.around(m.at(e.At), e.Name)
	}
	for _, h := range t.Havens {
		if len(h.Points) == 1 {
			m.around(m.at(h.Points[0]), h.Name)
		} else {
			m.onWay(m.points(h.Points, false), plainStyle, h.Name, false)
		}
	}
	for _, h := range t.Hazards {
		m.onWay(m.points(h.rings()[0], h.Closed), plainStyle, h.Name, false)
	}
	for _, l := range t.Lines {
		m.onWay(m.points(l.Points, false), plainStyle, l.Name, false)
	}
	for _, a := range t.Areas {
		m.onWay(m.points(a.Outline, true), plainStyle, a.Name, false)
	}
}

// onWay finds room for a text beside a piece of a way that is on the map, the longest if it can be;
// must says that it may cover what else stands there.
func (m *cutMap) onWay(way []Point, s Style, text string, must bool) {
	list := m.longest(way)
	if len(list) == 0 || text == "" {
		return
	}
	text = m.shortened(text, s)
	w, h := m.page.doc.Width(text, s), s.Height()
	var places []Point
	for _, p := range list {
		places = append(places, besideLine(p, w, h)...)
	}
	if way[0] == way[len(way)-1] {
		places = append(places, m.besideArea(way, w/2, h/2)...)
	}
	if !must {
		m.put(places, s, text, false)
		return
	}
	a, b := list[0][0], list[0][1]
	m.stand(Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2}, places, s, text)
}

// besideLine are places on both sides of a straight piece of a way for a text of a width and a height.
func besideLine(p [2]Point, w, h float64) (places []Point) {
	const gap = 1.6
	a, b := p[0], p[1]
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	nx, ny := -(b.Y-a.Y)/length, (b.X-a.X)/length
	off := (math.Abs(nx)*w+math.Abs(ny)*h)/2 + gap
	for _, f := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		for _, side := range []float64{1, -1} {
			places = append(places, Point{a.X + f*(b.X-a.X) + side*off*nx, a.Y + f*(b.Y-a.Y) + side*off*ny})
		}
	}
	return places
}

// besideArea are places around an area for a text of half a width and half a height: where its
// outline bends, none may be free along its edges.
func (m *cutMap) besideArea(way []Point, halfW, halfH float64) (places []Point) {
	const gap = 1.6
	var on []Point
	for _, run := range m.piecesIn(way, 0) {
		on = append(on, run...)
	}
	box := rectAround(on)
	for _, f := range []float64{0.5, 0.25, 0.75, 0, 1} {
		x, y := box.X+f*box.W, box.Y+f*box.H
		places = append(places,
			Point{x, box.Y - gap - halfH}, Point{x, box.Bottom() + gap + halfH},
			Point{box.Right() + gap + halfW, y}, Point{box.X - gap - halfW, y})
	}
	return places
}

// longest are the longest straight pieces of a way on the map, up to four.
func (m *cutMap) longest(way []Point) (list [][2]Point) {
	length := func(p [2]Point) float64 { return math.Hypot(p[1].X-p[0].X, p[1].Y-p[0].Y) }
	for _, run := range m.piecesIn(way, 0) {
		for i := 1; i < len(run); i++ {
			if p := [2]Point{run[i-1], run[i]}; length(p) > 0 {
				list = append(list, p)
			}
		}
	}
	slices.SortStableFunc(list, func(p, q [2]Point) int { return cmp.Compare(length(q), length(p)) })
	return list[:min(len(list), 4)]
}

// around finds room for a name beside a sign.
func (m *cutMap) around(at Point, text string) {
	if text == "" || !m.bound(0).Contains(orb.Point{at.X, at.Y}) {
		return
	}
	text = m.shortened(text, nameStyle)
	w, h := m.page.doc.Width(text, nameStyle)/2, nameStyle.Height()/2
	const gap = 2.4
	places := []Point{
		{at.X + gap + w, at.Y},
		{at.X - gap - w, at.Y},
		{at.X, at.Y - gap - h},
		{at.X, at.Y + gap + h},
		{at.X + gap/2 + w, at.Y - gap/2 - h},
		{at.X + gap/2 + w, at.Y + gap/2 + h},
		{at.X - gap/2 - w, at.Y - gap/2 - h},
		{at.X - gap/2 - w, at.Y + gap/2 + h},
	}
	for _, far := range []float64{2, 3, 4} { // where names crowd
		for _, side := range []float64{1, -1} {
			places = append(places,
				Point{at.X + gap + w, at.Y + side*far*2*h}, Point{at.X - gap - w, at.Y + side*far*2*h}, Point{at.X, at.Y + side*(far*2*h+gap)})
		}
	}
	if m.stand(at, places, nameStyle, text) >= ofWord {
		m.words, m.unnamed = m.words[:len(m.words)-1], true
	}
}

// stand finds room for a text at one of some places, or where none is free near what it names.
func (m *cutMap) stand(at Point, places []Point, s Style, text string) float64 {
	cost := m.put(places, s, text, true)
	if cost < ofWord {
		return cost
	}
	m.words = m.words[:len(m.words)-1]
	return m.put(append(places, near(at, m.page.doc.Width(text, s)/2, s.Height()/2)...), s, text, true)
}

// near are places around a point for a text of half a width and half a height.
func near(at Point, w, h float64) (places []Point) {
	const most, step = 12.0, 2.0 // between what is named and the text, millimetres
	for far := step; far <= most; far += step {
		for _, side := range []float64{1, -1} {
			for shift := -w; shift <= w; shift += step {
				places = append(places, Point{at.X + shift, at.Y + side*(far+h)})
			}
			for _, up := range []float64{-1, 1} {
				places = append(places, Point{at.X + side*(far+w), at.Y + up*far})
			}
		}
	}
	return places
}

// shortened is a name that is cut with a sign where it is too long for a map. A number at its end
// stays, which may alone tell it from others.
func (m *cutMap) shortened(text string, s Style) string {
	text = clean(text)
	most := min(longestName, m.box.W/2)
	if m.page.doc.Width(text, s) <= most {
		return text
	}
	number := ""
	if i := strings.LastIndexByte(text, ' '); strings.Trim(text[i+1:], "0123456789") == "" && len(text)-i <= 6 {
		text, number = text[:max(i, 0)], text[max(i, 0):]
	}
	return m.page.doc.cut(text, most-m.page.doc.Width(number, s)) + number
}

// laterPlace is what each step down the list of places costs, in what a text may cover: a name
// far from its sign seems to belong to something else.
const laterPlace = 0.5

// put finds room for a text, centred at one of some places, the most wanted first, where it
// covers least, or nowhere where it would cover something and need not stand. It returns what it costs.
func (m *cutMap) put(places []Point, s Style, text string, must bool) float64 {
	w, h := m.page.doc.Width(text, s)/2+plateWide, s.Height()/2
	best, least := Point{}, math.Inf(1)
	for i, at := range places {
		at = m.inside(at, w, h)
		covered := m.covered(at, w, h)
		if cost := covered + laterPlace*float64(i); cost < least && (must || covered == 0) {
			best, least = at, cost
		}
	}
	if !math.IsInf(least, 1) {
		m.words = append(m.words, mapWord{best, s, text, boundOf(best, w, h)})
	}
	return least
}

// ofWord is what covering a word or a sign costs, which could not be read then.
const ofWord = 1000

// covered is how much a text of half a width and half a height would cover: above all words and
// signs.
func (m *cutMap) covered(at Point, w, h float64) (sum float64) {
	box := boundOf(at, w, h)
	for _, t := range m.taken {
		if box.Intersects(t) {
			sum++
		}
	}
	for _, o := range m.words {
		if box.Intersects(o.box) {
			sum += ofWord
		}
	}
	for _, sign := range m.signs {
		if box.Intersects(sign) {
			sum += ofWord
		}
	}
	for _, area := range m.danger {
		sum += within(area, box) / 3
	}
	return sum
}

// within is how many of the points of a lattice over a box lie in an area.
func within(area orb.Polygon, box orb.Bound) (sum float64) {
	const across, down = 9, 3
	if !box.Intersects(area.Bound()) {
		return 0
	}
	for i := range across {
		for j := range down {
			at := orb.Point{box.Left() + float64(i)/(across-1)*(box.Right()-box.Left()), box.Bottom() + float64(j)/(down-1)*(box.Top()-box.Bottom())}
			if planar.PolygonContains(area, at) {
				sum++
			}
		}
	}
	return sum
}

// boundOf is the box around a point with half a width and half a height.
func boundOf(at Point, w, h float64) orb.Bound {
	return orb.Bound{Min: orb.Point{at.X - w, at.Y - h}, Max: orb.Point{at.X + w, at.Y + h}}
}

// inside moves a place so that a text of half a width and half a height stands on the map.
func (m *cutMap) inside(at Point, w, h float64) Point {
	const edge = 0.6
	return Point{
		max(m.box.X+edge+w, min(at.X, m.box.Right()-edge-w)),
		max(m.box.Y+edge+h, min(at.Y, m.box.Bottom()-edge-h)),
	}
}
