package ui

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
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// askMark sets a mark at a typed reference.
func (b *Bench) askMark() {
	ref := b.dialogs.Entry("grid reference, or latitude and longitude with °")
	name := b.dialogs.Entry("name, or leave empty")
	note := widgets.NewWrappedQuiet("")
	ref.OnChanged = func(t string) {
		note.SetText("")
		if t == "" {
			return
		}
		if pos, err := b.s.ParsePosition(t); err != nil {
			note.SetText(foot.Sentence(err))
		} else {
			note.SetText(strings.TrimSpace(b.readPosition(pos) + " " + b.lentNote(pos)))
		}
	}
	q := b.dialogs.Form(ask.Form{
		Title: "A mark by its reference", Verb: "Set", Size: fyne.NewSize(460, 250), Focus: ref,
		Body:   container.NewVBox(ref, name, note),
		Submit: func() error { return b.addTypedMark(name.Text, ref.Text) },
	})
	submit := func(string) { q.GiveDefault() }
	name.OnSubmitted, ref.OnSubmitted = submit, submit
}

// addTypedMark sets a mark at a typed reference.
func (b *Bench) addTypedMark(name, ref string) error {
	pos, err := b.s.ParsePosition(ref)
	if err != nil {
		return err
	}
	id, err := b.s.AddMark(strings.TrimSpace(name), pos)
	if err == nil {
		b.say(b.told("Mark set.", id))
	}
	return err
}

// partyForm holds the fields of the party's dialog.
type partyForm struct {
	circle, side      *widget.Select
	set               *widget.Check
	to, sigma         *widget.Entry
	walk, run         *widget.Entry
	paces, pacesSigma *widget.Entry
}

// askParty asks for compass, speeds and paces.
func (b *Bench) askParty() {
	f := newPartyForm(b.s.Plan().Party)
	form := widget.NewForm(
		widget.NewFormItem("Graduation", f.circle),
		widget.NewFormItem("Housing", f.set),
		widget.NewFormItem("Set to", container.NewGridWithColumns(2, f.to, f.side)),
		widget.NewFormItem("Compass good to ±", f.sigma),
		widget.NewFormItem("Walking, km/h", f.walk),
		widget.NewFormItem("Running, km/h", f.run),
		widget.NewFormItem("Double paces to 100 m", f.paces),
		widget.NewFormItem("Pacing good to ± %", f.pacesSigma),
	)
	b.dialogs.Form(ask.Form{
		Title: "Party and compass", Verb: "Use", Size: fyne.NewSize(520, 480),
		Body: container.NewVBox(
			widgets.NewWrapped("Where the housing is set to the grid-magnetic angle, the grid bearing is what you set. Correcting twice is the commonest slip."),
			form),
		Submit: func() error {
			party, err := f.party(b.s.Plan().Party)
			if err != nil {
				return err
			}
			return b.s.SetParty(party)
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
