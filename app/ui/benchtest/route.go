package benchtest

import (
	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/routepanel"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// Route are the acts of the Route panel and the ledger.
type Route struct{ b *Bench }

// AddMark sets a mark at a typed reference, by the menu.
func (r *Route) AddMark(name, ref string) {
	r.b.t.Helper()
	r.b.Choose("Set mark at a reference…")
	for field, text := range map[string]string{"grid reference, or latitude and longitude with °": ref, "name, or leave empty": name} {
		r.b.FocusOn(r.b.t, field)
		r.b.Replace(text)
	}
	before := len(r.b.Plan().Marks)
	r.b.Key(fyne.KeyReturn)
	if len(r.b.Plan().Marks) != before+1 {
		r.b.t.Fatalf("no mark is set at %q: %s", ref, r.b.Foot.Message())
	}
}

// TypeLeg types a leg into the form of the Route panel; from may be empty.
func (r *Route) TypeLeg(from, bearing, length string) {
	r.b.t.Helper()
	r.b.Choose("Add a leg by bearing and distance")
	r.b.Replace(bearing)
	r.b.FocusOn(r.b.t, "850 m")
	r.b.Replace(length)
	if from != "" {
		r.b.FocusOn(r.b.t, "from: mark or reference")
		r.b.Replace(from)
	}
	r.b.Key(fyne.KeyReturn)
}

// TypeCell types over a cell of the ledger and presses Return.
func (r *Route) TypeCell(id plan.ID, f session.Field, text string) {
	r.b.Ledger.Edit(id, f)
	r.b.Replace(text)
	r.b.Key(fyne.KeyReturn)
}

// KeepLine keeps a line between two points of the picture as a leg, to the point and not
// only to the pixel of the screen.
func (r *Route) KeepLine(x0, y0, x1, y1 float64) {
	r.b.t.Helper()
	var ends [2]plan.End
	for i, at := range []calib.PicturePt{{Col: x0, Row: y0}, {Col: x1, Row: y1}} {
		pos, err := r.b.Session().PositionAt(at, 0.5)
		if err != nil {
			r.b.t.Fatal(err)
		}
		ends[i] = plan.AtPosition(pos)
	}
	if _, err := r.b.Session().KeepLeg(ends[0], ends[1]); err != nil {
		r.b.t.Fatal(err)
	}
}

// NameField is the field for the name of the selected thing, nil for none.
func (r *Route) NameField() *widgets.EditField {
	f, _ := uitest.Find[*widgets.EditField](r.b.Window, "name")
	return f
}

// Naming reports whether the name of the selected thing is being typed.
func (r *Route) Naming() bool {
	f := r.NameField()
	return f != nil && r.b.Canvas().Focused() == fyne.Focusable(f)
}

// Section shows a section of the Route panel, by the keys of the chooser of its titles.
func (r *Route) Section(which routepanel.Section) {
	r.b.t.Helper()
	if r.b.Parts.Front() != "Route" {
		r.b.GoTo("Route")
	}
	var titles *widgets.Chooser
	seen(r.b.Parts.Lower(), func(o fyne.CanvasObject) {
		if c, ok := o.(*widgets.Chooser); ok && (titles == nil || PlaceOf(c).Y < PlaceOf(titles).Y) {
			titles = c
		}
	})
	r.b.Canvas().Focus(titles)
	r.b.Keys(titles.Chosen()-int(which), fyne.KeyLeft)
	r.b.Keys(int(which)-titles.Chosen(), fyne.KeyRight)
	if titles.Chosen() != int(which) {
		r.b.t.Fatalf("the Route panel shows section %d, want %d", titles.Chosen(), which)
	}
	r.b.FocusSheet()
}

// Find brings a thing of the plan into sight.
func (r *Route) Find(id plan.ID) {
	r.b.t.Helper()
	r.b.Session().Select(id)
	r.b.Choose("Find selection")
}
