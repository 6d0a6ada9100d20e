package projector

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/teach"
)

// act is one thing that can be done in the window: its words in the menu, the key that is
// named there, and what it does.
type act struct {
	words, key string
	do         func()
}

// keys takes what is typed in the window.
type keys struct {
	p *Projector
}

const (
	panStep  = 80   // of the sheet by an arrow key, units of the window
	zoomStep = 1.25 // of the sheet by a key
	wideStep = 0.05 // of the board, as a part of the window's width
)

// acts lists what the menu offers.
func (p *Projector) acts() []act {
	hide := "Hide the figures"
	if p.n.Lesson.Hidden() {
		hide = "Show the figures"
	}
	full := "Fill the screen"
	if p.window.FullScreen() {
		full = "Leave full screen"
	}
	list := []act{
		{"Go on: show what is hidden, then the next line", "Page Down", p.n.Lesson.Next},
		{"Go back", "Page Up", p.n.Lesson.Previous},
		{hide, "H", p.toggleHidden},
		{"Switch between grid, magnetic and true north", "N", p.n.Lesson.NextNorth},
	}
	return slices.Concat(list, p.stepActs(), []act{
		{"Bring the line into view", "Home", p.sheet.home},
		{"Enlarge the dial", "+", func() { p.widen(wideStep) }},
		{"Make the dial smaller", "−", func() { p.widen(-wideStep) }},
		{full, "F11", p.toggleFull},
		{"Close this window", "Esc", p.Close},
	})
}

// stepActs go through the compass while it is shown.
func (p *Projector) stepActs() []act {
	if _, on := p.n.Lesson.Stepping(); !on {
		return nil
	}
	var list []act
	for i, nth := range []string{"Before the first step", "First step", "Second step", "Third step", "Fourth step"} {
		list = append(list, act{nth, strconv.Itoa(i), func() { p.step(func(s teach.Stepping) teach.Stepping { return s.To(i) }) }})
	}
	return append(list,
		act{"Next mistake", "W", func() { p.step(teach.Stepping.NextWrong) }},
		act{"Switch between map to ground and ground to map", "M", func() { p.step(teach.Stepping.Other) }})
}

// step goes to another step of the compass, while that is shown with a line.
func (p *Projector) step(to func(teach.Stepping) teach.Stepping) {
	s, on := p.n.Lesson.Stepping()
	if _, line := p.n.Lesson.Line(); on && line {
		p.n.Lesson.SetStepping(to(s))
	}
}

// rune takes letters.
func (k *keys) rune(r rune) {
	p := k.p
	p.hideNote()
	for _, a := range p.stepActs() {
		if a.key == strings.ToUpper(string(r)) {
			a.do()
			return
		}
	}
	switch r {
	case 'h', 'H':
		p.toggleHidden()
	case 'n', 'N':
		p.n.Lesson.NextNorth()
	case '+', '=':
		p.widen(wideStep)
	case '-', '−':
		p.widen(-wideStep)
	case 'i', 'I':
		p.sheet.area.ZoomBy(zoomStep)
	case 'o', 'O':
		p.sheet.area.ZoomBy(1 / zoomStep)
	}
}

// key takes the other keys.
func (k *keys) key(e *fyne.KeyEvent) {
	p := k.p
	p.hideNote()
	area := p.sheet.area
	switch e.Name {
	case fyne.KeyPageDown:
		p.n.Lesson.Next()
	case fyne.KeyPageUp:
		p.n.Lesson.Previous()
	case fyne.KeyHome:
		p.sheet.home()
	case fyne.KeyF11:
		p.toggleFull()
	case fyne.KeyEscape:
		p.escape()
	case fyne.KeyLeft:
		area.PanBy(panStep, 0)
	case fyne.KeyRight:
		area.PanBy(-panStep, 0)
	case fyne.KeyUp:
		area.PanBy(0, panStep)
	case fyne.KeyDown:
		area.PanBy(0, -panStep)
	}
}
