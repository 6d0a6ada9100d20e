package routepanel

import (
	"errors"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// partyForm holds the fields of the party's dialog. Its angles are asked in the unit of
// the compass's circle.
type partyForm struct {
	circle, side       *widgets.Select
	set                *widgets.Check
	to, sigma          *numberField
	toUnit, sigmaUnit  *widgets.Quiet
	walk, run          *numberField
	paces, pacesSigma  *numberField
	pacesUp, pacesDown *numberField // empty for as on the flat
}

// AskParty asks for compass, speeds and paces.
func (p *Panel) AskParty() { askParty(p.n) }

func askParty(n *Needs) {
	f := newPartyForm(n.Ask, n.Session.Plan().Party)
	form := widget.NewForm(
		widget.NewFormItem("Graduation", f.circle),
		widget.NewFormItem("Housing", f.set),
		widget.NewFormItem("Set to", container.NewGridWithColumns(2, container.NewBorder(nil, nil, nil, f.toUnit, f.to.entry), f.side)),
		widget.NewFormItem("Compass good to ±", container.NewBorder(nil, nil, nil, f.sigmaUnit, f.sigma.entry)),
		widget.NewFormItem("Walking, km/h", f.walk.entry),
		widget.NewFormItem("Running, km/h", f.run.entry),
		widget.NewFormItem("Double paces in 100 m", f.paces.entry),
		widget.NewFormItem("Uphill, downhill", container.NewGridWithColumns(2, f.pacesUp.entry, f.pacesDown.entry)),
		widget.NewFormItem("Pacing good to ± %", f.pacesSigma.entry),
	)
	n.Ask.Form(ask.Form{
		Title: "Party and compass", Verb: "Use", Size: fyne.NewSize(520, 480),
		Body: container.NewVBox(widgets.NewWrapped(
			"If your housing's declination adjustment is set to the grid-magnetic angle (GMA), set the grid bearing uncorrected. Correcting twice is the commonest slip."), form),
		Submit: func() error {
			party, err := f.party(n.Session.Plan().Party)
			if err != nil {
				return err
			}
			return n.Session.SetParty(party)
		},
	})
}

func newPartyForm(d *ask.Dialogs, p plan.Party) *partyForm {
	var names []string
	for _, c := range units.Circles() {
		names = append(names, c.String())
	}
	f := &partyForm{side: d.Select([]string{"east", "west"}, nil), toUnit: widgets.NewQuiet(""), sigmaUnit: widgets.NewQuiet("")}
	f.set = d.Check("has its declination (GMA) adjustment set", f.enable)
	per := perRadian(p.Compass.Circle)
	f.to = newNumberField(d, "the angle of the housing's adjustment", math.Abs(p.Compass.SetTo.Rad()), per)
	f.sigma = newNumberField(d, "the compass", p.Compass.Sigma.Rad(), 2*per) // ± is two σ
	f.walk, f.run = newNumberField(d, "walking", p.SpeedKmh, 1), newNumberField(d, "running", p.RunSpeedKmh, 1)
	f.paces, f.pacesSigma = newNumberField(d, "paces", p.PacesPer100m, 1), newNumberField(d, "pacing", p.PaceSigma, 200)
	f.pacesUp, f.pacesDown = newOptional(d, "uphill", p.PacesUp), newOptional(d, "downhill", p.PacesDown)
	f.circle = d.Select(names, func(string) { f.inUnit() })
	f.circle.SetSelected(p.Compass.Circle.String())
	f.side.SetSelected("east")
	if p.Compass.SetTo < 0 {
		f.side.SetSelected("west")
	}
	f.set.SetChecked(p.Compass.Set)
	f.enable(p.Compass.Set)
	return f
}

// perRadian is how many units of a circle make a radian.
func perRadian(c units.Circle) float64 { return c.PerTurn() / (2 * math.Pi) }

// inUnit writes the angles in the unit of the circle that is chosen.
func (f *partyForm) inUnit() {
	c := f.chosen()
	f.to.rescale(perRadian(c))
	f.sigma.rescale(2 * perRadian(c))
	f.toUnit.SetText(c.Unit())
	f.sigmaUnit.SetText(c.Unit())
}

// chosen is the circle that is chosen.
func (f *partyForm) chosen() units.Circle { return units.Circles()[f.circle.SelectedIndex()] }

// enable lets the angle of the housing be typed.
func (f *partyForm) enable(on bool) {
	for _, w := range []fyne.Disableable{f.to.entry, f.side} {
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
	read := func(f *numberField) float64 {
		v, err := f.value()
		errs = append(errs, err)
		return v
	}
	p.Compass.Circle = f.chosen()
	p.Compass.Set = f.set.Checked
	if p.Compass.Set {
		to := read(f.to)
		if f.side.Selected == "west" {
			to = -to
		}
		p.Compass.SetTo = units.Angle(to)
	}
	p.Compass.Sigma = units.Angle(read(f.sigma))
	p.SpeedKmh, p.RunSpeedKmh = read(f.walk), read(f.run)
	p.PacesPer100m, p.PaceSigma = read(f.paces), read(f.pacesSigma)
	p.PacesUp, p.PacesDown = read(f.pacesUp), read(f.pacesDown)
	return p, errors.Join(errs...)
}
