package routepanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/geomag"
	"legwright/app/ui/widgets"
)

// about shows what concerns the plan as a whole: title, date, party, time.
type about struct {
	n           *Needs
	body        fyne.CanvasObject
	scroll      *widgets.NestedScroll
	title, date *widgets.EditField
	clock       *clock
	concealed   bool
}

func newAbout(n *Needs) *about {
	a := &about{n: n, clock: newClock(n)}
	a.title = widgets.NewEditField("title of the plan", func(text string) bool {
		return n.Foot.Try(n.Session.SetTitle(text), "Changed.")
	}, n.View.Focus)
	a.date = widgets.NewEditField(n.Dates.Example(), a.setDate, n.View.Focus)
	party := button(n, "", "Party and compass…", "Compass, speeds and paces of the party", func() { askParty(n) })
	rows := append([]fyne.CanvasObject{widgets.NewLabelled("title", wheeled(n, a.title)), widgets.NewLabelled("date", wheeled(n, a.date)), container.NewHBox(party)}, a.clock.rows()...)
	a.scroll = inset(n, container.NewVBox(rows...))
	a.body = a.scroll
	return a
}

func (a *about) fill() {
	p := a.n.Session.Plan()
	a.title.ShowText("", p.Title)
	a.date.ShowText("", a.n.Dates.Format(p.Date))
	a.clock.fill(a.concealed)
}

func (a *about) setDate(text string) bool {
	day, err := a.n.Dates.Parse(text)
	if err == nil {
		err = a.n.Session.SetDate(day.String())
	}
	if !a.n.Foot.Try(err, "") {
		return false
	}
	a.fill() // as the locale writes it
	words := a.magneticWords()
	if a.n.Session.StartIsPast() {
		words += " The start is in the past."
	}
	a.n.Foot.Say(words)
	return true
}

// magneticWords says what the date means for the magnetic bearings.
func (a *about) magneticWords() string {
	day := a.n.Session.Plan().Date
	if _, err := geomag.ForYear(geomag.DecimalYear(day.Time())); err != nil {
		return "The date is " + day.Words() + ", but there is no magnetic bearing: " + err.Error() + "."
	}
	return "Magnetic bearings are for " + day.Words() + "."
}
