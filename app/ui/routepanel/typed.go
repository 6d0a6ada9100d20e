package routepanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// typedLeg is the form of a leg by bearing and distance.
type typedLeg struct {
	n                     *Needs
	body                  *fyne.Container
	from, bearing, length *widget.Entry
	north                 *widgets.Chooser
	stands                func() float32      // how far below the upper edge the form is seen
	added                 func(stood float32) // a leg was added; the form should stand there again
}

func newTypedLeg(n *Needs) *typedLeg {
	f := &typedLeg{n: n, north: widgets.NewChooser([]string{"grid", "magnetic", "true"}, nil)}
	submit := func(string) { f.add() }
	f.from = widgets.NewField("", submit)
	f.bearing = widgets.NewField("bearing", submit)
	f.length = widgets.NewField("850 m", submit)
	add := button(n, look.IconAdd, "Add leg", "Add a leg by bearing and distance", f.add)
	f.body = container.NewVBox(widgets.NewHeading("Leg by bearing and distance"), wheeled(n, f.from),
		container.NewGridWithColumns(2, wheeled(n, f.bearing), wheeled(n, f.length)), f.north, container.NewHBox(add))
	return f
}

// showStart says where a leg starts if the field for it stays empty.
func (f *typedLeg) showStart() {
	text := "from: mark or reference"
	if rows := f.n.Session.Rows(); len(rows) > 0 {
		text = "from " + rows[len(rows)-1].To
	}
	if f.from.PlaceHolder != text {
		f.from.SetPlaceHolder(text)
	}
}

// add adds the leg.
func (f *typedLeg) add() {
	from, err := f.start()
	if err != nil {
		f.n.Foot.Fail(err)
		return
	}
	north := []session.North{session.GridNorth, session.MagneticNorth, session.TrueNorth}[max(f.north.Chosen(), 0)]
	stood := f.stands()
	id, err := f.n.Session.LegFromTyped(from, f.bearing.Text, north, f.length.Text)
	if !f.n.Foot.Try(err, withNote(f.n, "Leg added.", id)) {
		return
	}
	for _, e := range []*widget.Entry{f.from, f.bearing, f.length} {
		widgets.Fill(e, "")
	}
	f.added(stood)
	if now := f.n.Ask.Window().Canvas().Focused(); now == f.length || now == f.from {
		focus(f.n, f.bearing) // the next leg is typed on from the end
	}
}

// start is where the leg starts: as typed, or at the end of the route.
func (f *typedLeg) start() (plan.End, error) {
	if legs := f.n.Session.Plan().Legs; f.from.Text == "" && len(legs) > 0 {
		return legs[len(legs)-1].To, nil
	}
	return f.n.Session.ParseEnd(f.from.Text)
}

// withNote adds to the message of an act which sheet supplied the letters of a
// reference typed without them.
func withNote(n *Needs, done string, id plan.ID) string {
	if note := n.Session.LettersNote(id); note != "" {
		return done + " " + note
	}
	return done
}
