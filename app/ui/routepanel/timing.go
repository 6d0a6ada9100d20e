package routepanel

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
)

// timingForm holds the fields of the dialog about walking times.
type timingForm struct {
	method, fitness                 *widgets.Select
	langmuir, load, night, headWind *widgets.Check
	rests                           *numberField
}

// AskTiming asks for the rule of walking times, fitness and rests.
func (p *Panel) AskTiming() { askTiming(p.n) }

func askTiming(n *Needs) {
	f := newTimingForm(n.Ask, n.Session.Plan().Timing)
	form := widget.NewForm(
		widget.NewFormItem("Rule", f.method),
		widget.NewFormItem("Descents", f.langmuir),
		widget.NewFormItem("Fitness (Tranter)", f.fitness),
		widget.NewFormItem("Slowed by", container.NewHBox(f.load, f.night, f.headWind)),
		widget.NewFormItem("Rests, min per hour", f.rests.entry),
	)
	n.Ask.Form(ask.Form{
		Title: "Walking time", Verb: "Use", Size: fyne.NewSize(560, 420),
		Body: container.NewVBox(widgets.NewWrapped(
			"The metric rule uses the party’s own speed and adds 10 minutes for every 100 m of climb. Fitness is how long the party takes to climb 300 m over a distance of 800 m. If a leg crosses several areas of ground, its climb is shared out by the length in each. With Tobler’s function this is only approximate."), form),
		Submit: func() error {
			t, err := f.timing(n.Session.Plan().Timing)
			if err != nil {
				return err
			}
			return n.Session.SetTiming(t)
		},
	})
}

// noFitness stands for not using Tranter's table.
const noFitness = "not used"

func newTimingForm(d *ask.Dialogs, t plan.Timing) *timingForm {
	var methods []string
	fitness := []string{noFitness}
	for _, m := range pace.Methods() {
		methods = append(methods, m.Words())
	}
	for _, x := range pace.Fitnesses() {
		fitness = append(fitness, fmt.Sprintf("%d min", x))
	}
	f := &timingForm{langmuir: d.Check("with Langmuir’s corrections", nil), rests: newNumberField(d, "the rests", t.RestMinPerHour, 1)}
	f.load, f.night, f.headWind = d.Check("20 kg each", nil), d.Check("night", nil), d.Check("headwind", nil)
	f.method, f.fitness = d.Select(methods, nil), d.Select(fitness, nil)
	f.method.SetSelected(t.Method.Words())
	f.fitness.SetSelected(noFitness)
	if t.Fitness != 0 {
		f.fitness.SetSelected(fmt.Sprintf("%d min", t.Fitness))
	}
	for box, on := range map[*widgets.Check]bool{f.langmuir: t.Langmuir, f.load: t.Load, f.night: t.Night, f.headWind: t.HeadWind} {
		box.SetChecked(on)
	}
	f.method.OnChanged, f.fitness.OnChanged = func(string) { f.enable() }, func(string) { f.enable() }
	f.enable()
	return f
}

// enable greys what does not belong to the rule that is chosen.
func (f *timingForm) enable() {
	naismith := f.chosen().CountsClimb()
	able(naismith, f.langmuir, f.fitness)
	able(naismith && f.fitness.Selected != noFitness, f.load, f.night, f.headWind)
}

// able greys controls, or lets them be used.
func able(on bool, list ...fyne.Disableable) {
	for _, w := range list {
		if on {
			w.Enable()
		} else {
			w.Disable()
		}
	}
}

func (f *timingForm) chosen() pace.Method {
	return pace.Methods()[max(f.method.SelectedIndex(), 0)]
}

// timing reads the form over an existing timing.
func (f *timingForm) timing(t plan.Timing) (plan.Timing, error) {
	rests, err := f.rests.value()
	if err != nil {
		return t, err
	}
	t.Method, t.RestMinPerHour, t.Fitness = f.chosen(), rests, 0
	if i := f.fitness.SelectedIndex(); i > 0 {
		t.Fitness = pace.Fitnesses()[i-1]
	}
	t.Langmuir, t.Load, t.Night, t.HeadWind = f.langmuir.Checked, f.load.Checked, f.night.Checked, f.headWind.Checked
	return t, nil
}
