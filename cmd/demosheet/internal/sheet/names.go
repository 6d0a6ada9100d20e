package sheet

import (
	"image/color"
	"math"
	"strconv"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
)

// kind says what a text on the map names; it decides face, size and colour.
type kind int

const (
	contourFigure kind = iota
	spotFigure
	islandName
	isletName
	hillName
	topName
	groundName
	placeName
	builtName
	waterSmall
	waterLarge
	seaName
)

// name is a text of the map: at a point, or along a line when via is given.
type name struct {
	kind   kind
	text   string
	at     ground.Point
	anchor float64 // part of the text that lies west of the point, 0 to 1
	via    []ground.Point
}

// lettering is a text ready to be drawn along its path.
type lettering struct {
	kind kind
	text string
	size float64
	at   ink.Pt // its middle
	path []ink.Pt
	from float64
}

// hand is the way a kind of text is written.
type hand struct {
	face    *ink.Face
	size    float64
	spacing float64
	halo    float64
	ink     color.RGBA
}

func (m *maker) hand(k kind) hand {
	f := m.faces
	switch k {
	case contourFigure:
		return hand{f.figure, 23, 0, 9, reliefDk}
	case spotFigure:
		return hand{f.figure, 25, 0, 9, nameInk}
	case islandName:
		return hand{f.bold, 74, 17, 12, nameInk}
	case isletName:
		return hand{f.bold, 42, 4, 10, nameInk}
	case hillName:
		return hand{f.roman, 40, 6, 10, nameInk}
	case topName:
		return hand{f.bold, 42, 1.5, 10, nameInk}
	case groundName:
		return hand{f.roman, 33, 1.6, 9, nameInk}
	case placeName:
		return hand{f.bold, 40, 1.5, 10, nameInk}
	case builtName:
		return hand{f.roman, 30, 0.6, 9, nameInk}
	case waterSmall:
		return hand{f.italic, 33, 1.2, 9, waterName}
	case waterLarge:
		return hand{f.italic, 42, 3, 10, waterName}
	default:
		return hand{f.italic, 66, 16, 12, waterName}
	}
}

// collectNames books every name before the contour figures look for room.
func (m *maker) collectNames() {
	for _, n := range append(names(), m.heights()...) {
		h := m.hand(n.kind)
		width := h.face.Width(n.text, h.size, h.spacing)
		t := lettering{kind: n.kind, text: n.text, size: h.size}
		if len(n.via) > 0 {
			t.path = m.line(ground.Line(n.via).Round(4))
			t.from = (ink.Length(t.path) - width) / 2
		} else {
			p := m.px(n.at)
			x, y := p.X-n.anchor*width, p.Y+0.34*h.size
			t.path = []ink.Pt{{X: x, Y: y}, {X: x + width + 1, Y: y}}
		}
		t.at, _ = ink.At(t.path, t.from+width/2)
		m.texts = append(m.texts, t)
	}
}

// heights returns the figures of the spot heights and of the pillar, read from the ground.
func (m *maker) heights() []name {
	var out []name
	put := func(p ground.Point, anchor, off float64) {
		text := strconv.Itoa(int(math.Round(m.g.Height.At(p))))
		p.X += off * (1 - 2*anchor)
		out = append(out, name{kind: spotFigure, text: text, at: p, anchor: anchor})
	}
	for _, s := range spotList() {
		put(at(s.e, s.n), s.anchor, 22)
	}
	put(mark(demo.TrigPillar), 0, 55)
	return out
}

// nearName reports whether p is closer than d pixels to a booked name.
func (m *maker) nearName(p ink.Pt, d float64) bool {
	for _, t := range m.texts {
		if t.kind == contourFigure {
			continue
		}
		h := m.hand(t.kind)
		width := h.face.Width(t.text, t.size, h.spacing)
		line := ink.Cut(t.path, math.Max(t.from, 0), t.from+width)
		if margin(line, ink.Pt{X: p.X, Y: p.Y + 0.3*t.size}) < d+0.4*t.size {
			return true
		}
	}
	return false
}

func (m *maker) write(t lettering) *ink.Pen {
	h := m.hand(t.kind)
	pen := ink.NewPen()
	lift := 0.0
	if t.kind == contourFigure {
		lift = -0.35 * t.size
	}
	h.face.TextAlong(pen, t.text, t.path, t.from, lift, t.size, h.spacing)
	return pen
}

// halos clears the lines that would run through the texts.
func (m *maker) halos() {
	for _, t := range m.texts {
		pen := m.write(t)
		m.c.Halo(pen.Outline(m.hand(t.kind).halo))
	}
}

func (m *maker) letter() {
	for _, t := range m.texts {
		m.c.Ink(m.write(t), m.hand(t.kind).ink, 1)
	}
}
