package teachpanel

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/teach"
	"legwright/app/ui/dial"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// bearingField is a bearing with its north, typed or turned on the dial. One that was
// typed without a north asks for it: which north is what a lesson is about.
type bearingField struct {
	n       *Needs
	stage   *stage
	who     string // whose it is, above the figure on the dial
	body    *fyne.Container
	field   *widgets.EditField
	ask     fyne.CanvasObject
	said    teach.Bearing
	known   bool
	turning bool
	label   string // above the figure on the dial
	take    func() // makes the dial this bearing's
	changed func()
	rest    func() // the bearing stands: it was typed, or the hand left the dial
}

// newBearingField returns the field, with what gives the keys to the dial at its right.
func newBearingField(n *Needs, st *stage, who string, take, changed func()) *bearingField {
	x := &bearingField{n: n, stage: st, who: who, take: take, changed: changed, rest: func() {}}
	turn := st.button(look.IconRedo, "", "Turn the bearing on the dial with the mouse, the wheel or the arrow keys  (T)", x.turn)
	x.field = widgets.NewEditField("060 grid", x.set, n.View.Focus)
	x.field.Figures = true
	norths := container.NewHBox()
	for _, north := range units.Norths() {
		norths.Add(st.button("", north.Long(), "The bearing is from "+north.Long()+" north", func() { x.answer(north) }))
	}
	x.ask = labelled("which north?", norths)
	x.ask.Hide()
	x.body = container.NewVBox(labelled("bearing", container.NewBorder(nil, nil, nil, turn, widgets.NewWheeled(x.field, n.wheel))), x.ask)
	return x
}

// set takes what was typed, and makes the dial this bearing's. Nothing takes the bearing
// away.
func (x *bearingField) set(text string) bool {
	if strings.TrimSpace(text) == "" {
		x.known = false
		x.tell()
		return true
	}
	angle, north, err := units.ParseBearingNorth(text, x.stage.circle())
	if !x.n.Foot.Try(err, "") {
		return false
	}
	x.said, x.known = teach.Bearing{Angle: angle, North: north}, true
	x.take()
	x.n.Dial.Turn(angle)
	x.tell()
	x.rest()
	return true
}

// typed goes to the field and types a digit, unless figures are hidden.
func (x *bearingField) typed(r rune) bool {
	if !isDigit(r) || x.stage.concealed {
		return false
	}
	x.n.Host.Reveal(x.field)
	x.n.focus(x.field)
	x.field.Begin(r)
	return true
}

// answer says from which north the bearing is.
func (x *bearingField) answer(north units.North) {
	x.said.North = north
	x.n.Foot.Hint("") // the button is gone, and would leave its hint behind
	x.tell()
	x.n.View.Focus()
}

// turned takes what the dial is turned to.
func (x *bearingField) turned(a units.Angle) {
	if !x.known {
		x.said = teach.Bearing{North: x.n.Lesson.North()}
	}
	x.said.Angle, x.known = a, true
	x.tell()
}

func (x *bearingField) tell() {
	x.fill()
	x.changed()
}

// begin makes the dial the bearing's.
func (x *bearingField) begin() {
	x.turning = true
	x.label = x.words()
	x.n.Dial.SetInput(&dial.Input{Label: x.label, Circle: x.stage.circle(), At: x.said.Angle, OnTurn: x.turned, Accept: x.accept, Rest: x.rest})
}

// turn gives the keys to the ring of the dial, or back to the sheet where it has them.
func (x *bearingField) turn() {
	if on, ok := x.n.Ask.Window().Canvas().Focused().(fyne.CanvasObject); ok && x.turning && on == x.n.Dial.Ring() {
		x.accept()
		return
	}
	x.take()
	x.n.Host.Reveal(x.n.Dial)
	x.n.Dial.Focus()
	x.n.urge("Turn the ring with the mouse, the wheel or the arrow keys. Return goes back to the sheet.")
}

// accept goes back to the sheet, and to what the panel says.
func (x *bearingField) accept() {
	x.n.obeyed()
	x.rest()
	x.n.Host.Reveal(x.stage.top)
	x.n.View.Focus()
}

// end gives the dial back to the reading.
func (x *bearingField) end() {
	if x.turning {
		x.turning = false
		x.n.Dial.SetInput(nil)
	}
}

// words stand above the figure on the dial.
func (x *bearingField) words() string {
	switch {
	case !x.known: // the figure is where the ring begins
		return x.who + ": turn the ring"
	case x.said.North == units.NoNorth:
		return x.who + ": choose a north"
	}
	return x.who + ", " + x.said.North.String()
}

// fill shows the bearing, and asks for its north where none was named.
func (x *bearingField) fill() {
	text := ""
	if x.known {
		text = x.said.North.Figure(x.stage.circle(), x.said.Angle)
	}
	x.field.ShowText("", text)
	visible(x.ask, x.asks())
	if at, ok := x.n.Dial.Turned(); x.turning && ok && (x.label != x.words() || at != x.said.Angle) {
		x.begin()
	}
}

// asks reports whether the north of the bearing was not said.
func (x *bearingField) asks() bool { return x.known && x.said.North == units.NoNorth }

// follow takes the north that the lesson goes on to, for a bearing that has one already.
func (x *bearingField) follow(north units.North) {
	if x.known && x.said.North != units.NoNorth {
		x.said.North = north
	}
}
