package routepanel

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// partyForm holds the fields of the party's dialog.
type partyForm struct {
	circle, side      *widget.Select
	set               *widget.Check
	to, sigma         *widget.Entry
	walk, run         *widget.Entry
	paces, pacesSigma *widget.Entry
}

// AskParty asks for compass, speeds and paces.
func (p *Panel) AskParty() { askParty(p.n) }

func askParty(n *Needs) {
	f := newPartyForm(n.Session.Plan().Party)
	form := widget.NewForm(
		widget.NewFormItem("Graduation", f.circle),
		widget.NewFormItem("Housing", f.set),
		widget.NewFormItem("Set to", container.NewGridWithColumns(2, f.to, f.side)),
		widget.NewFormItem("Compass good to ±", f.sigma),
		widget.NewFormItem("Walking, km/h", f.walk),
		widget.NewFormItem("Running, km/h", f.run),
		widget.NewFormItem("Double paces in 100 m", f.paces),
		widget.NewFormItem("Pacing good to ± %", f.pacesSigma),
	)
	n.Ask.Form(ask.Form{
		Title: "Party and compass", Verb: "Use", Size: fyne.NewSize(520, 480),
		Body: container.NewVBox(widgets.NewWrapped(
			"If the housing is set to the grid-magnetic angle, you set the grid bearing. Correcting twice is the commonest slip."), form),
		Submit: func() error {
			party, err := f.party(n.Session.Plan().Party)
			if err != nil {
				return err
			}
			return n.Session.SetParty(party)
		},
	})
}

func newPartyForm(p plan.Party) *partyForm {
	var names []string
	for _, c := range units.Circles() {
		names = append(names, c.String())
	}
	f := &partyForm{circle: widget.NewSelect(names, nil), side: widget.NewSelect([]string{"east", "west"}, nil)}
	f.set = widget.NewCheck("adjustable, and set to an angle", func(on bool) { enable(on, f.to, f.side) })
	number := func(v float64) *widget.Entry {
		e := widget.NewEntry()
		e.SetText(strconv.FormatFloat(v, 'f', -1, 64))
		return e
	}
	deg := p.Compass.SetTo.Deg()
	f.circle.SetSelected(p.Compass.Circle.String())
	f.side.SetSelected("east")
	if deg < 0 {
		f.side.SetSelected("west")
		deg = -deg
	}
	f.to, f.sigma = number(round2(deg)), number(round2(2*p.Compass.Sigma.Deg()))
	f.walk, f.run = number(p.SpeedKmh), number(p.RunSpeedKmh)
	f.paces, f.pacesSigma = number(p.PacesPer100m), number(round2(200*p.PaceSigma))
	f.set.SetChecked(p.Compass.Set)
	enable(p.Compass.Set, f.to, f.side)
	return f
}

func round2(v float64) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', 2, 64), 64)
	return r
}

func enable(on bool, list ...fyne.Disableable) {
	for _, w := range list {
		if on {
			w.Enable()
		} else {
			w.Disable()
		}
	}
}

// party reads the form over an existing party.
func (f *partyForm) party(p plan.Party) (plan.Party, error) {
	var errs []error
	read := func(name string, e *widget.Entry) float64 {
		v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(e.Text), ",", ".", 1), 64)
		if err != nil {
			errs = append(errs, fmt.Errorf("%s: %q is not a number", name, e.Text))
		}
		return v
	}
	for _, c := range units.Circles() {
		if c.String() == f.circle.Selected {
			p.Compass.Circle = c
		}
	}
	p.Compass.Set = f.set.Checked
	if p.Compass.Set {
		to := read("the housing's angle", f.to)
		if f.side.Selected == "west" {
			to = -to
		}
		p.Compass.SetTo = units.Degrees(to)
	}
	p.Compass.Sigma = units.Degrees(read("the compass", f.sigma) / 2)
	p.SpeedKmh, p.RunSpeedKmh = read("walking", f.walk), read("running", f.run)
	p.PacesPer100m, p.PaceSigma = read("paces", f.paces), read("pacing", f.pacesSigma)/200
	return p, errors.Join(errs...)
}
