package sheet

import (
	"image/color"

	"legwright/cmd/demosheet/internal/ink"
)

// margin writes the title above the frame and the key, the scale and the notes below it.
func (m *maker) margin() {
	x0, y0, x1, y1 := m.frameBox()
	m.title(x0, y0, x1)
	m.scaleBar(x0, y1+230)
	m.key(x0+1990, y1+190)
	m.notes(x1, y1)
}

func (m *maker) title(x0, y0, x1 float64) {
	f := m.faces
	m.say(f.bold, "THE HALVASAY ISLES", x0, y0-118, 104, 15, nameInk)
	w := f.bold.Width("THE HALVASAY ISLES", 104, 15)
	m.say(f.italic, "Halvasay, Brisgeray, Drulisay and Osnigay", x0+w+48, y0-118, 46, 1, waterName)
	right := "1 : 25 000"
	m.say(f.bold, right, x1-f.bold.Width(right, 84, 4), y0-118, 84, 4, nameInk)
}

// say writes one line in the margin from x on the baseline y.
func (m *maker) say(f *ink.Face, text string, x, y, size, spacing float64, c color.RGBA) {
	pen := ink.NewPen()
	f.Text(pen, text, ink.Pt{X: x, Y: y}, 0, size, spacing)
	m.c.Ink(pen, c, 1)
}

// scaleBar draws one kilometre in hundreds to the left of zero and three whole ones to the right.
func (m *maker) scaleBar(x, y float64) {
	const km = 400.0
	pen, text := ink.NewPen(), ink.NewPen()
	box(pen, x, y, x+4*km, y+18, 2.4)
	for i := range 10 {
		if i%2 == 0 {
			pen.Rect(x+float64(i)*km/10, y, x+float64(i+1)*km/10, y+9)
		} else {
			pen.Rect(x+float64(i)*km/10, y+9, x+float64(i+1)*km/10, y+18)
		}
	}
	for i := 1; i < 4; i++ {
		top := y + 9*float64((i+1)%2)
		pen.Rect(x+float64(i)*km, top, x+float64(i+1)*km, top+9)
	}
	f := m.faces.figure
	m.centred(text, f, "1000", x, y-14, 30, 0)
	m.centred(text, f, "500", x+km/2, y-14, 30, 0)
	m.centred(text, f, "0", x+km, y-14, 30, 0)
	for i, s := range []string{"1", "2", "3 km"} {
		m.centred(text, f, s, x+float64(i+2)*km, y-14, 30, 0)
	}
	m.c.Ink(pen, nameInk, 1)
	m.c.Ink(text, nameInk, 1)
	m.say(m.faces.italic, "metres", x+54, y-14, 30, 0.5, nameInk)
	m.say(m.faces.roman, "4 centimetres on the sheet are 1 kilometre on the ground. Contours every 10 metres,", x, y+70, 32, 0.4, nameInk)
	m.say(m.faces.roman, "a heavier line every 50. Ticks along the frame every 100 metres.", x, y+112, 32, 0.4, nameInk)
}

func (m *maker) notes(x1, y1 float64) {
	f := m.faces
	right := func(face *ink.Face, text string, y, size, spacing float64, c color.RGBA) {
		m.say(face, text, x1-face.Width(text, size, spacing), y, size, spacing, c)
	}
	right(f.bold, "Invented ground. Not for navigation.", y1+226, 52, 0.8, nameInk)
	right(f.roman, "Every island, name and height on this sheet is made up.", y1+282, 34, 0.4, nameInk)
	right(f.roman, "Grid: British National Grid (EPSG:27700), square NL.", y1+328, 34, 0.4, nameInk)
	right(f.roman, "Grid lines are one kilometre apart; figures in kilometres.", y1+374, 34, 0.4, nameInk)
}
