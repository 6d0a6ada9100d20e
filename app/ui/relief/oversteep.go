package relief

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/ask"
	"legwright/app/ui/widgets"
)

// AskOverSteep asks from which slope ground counts as over-steep in this plan.
func (r *Relief) AskOverSteep() {
	field := r.n.Ask.Entry("depends on the terrain")
	if deg := r.n.Session.Plan().OverSteepDeg; deg != 0 {
		field.SetText(strconv.Itoa(deg))
	}
	r.n.Ask.Form(ask.Form{
		Title: "Over-steep slope", Verb: "Set", Focus: field, Size: fyne.NewSize(460, 260),
		Body: container.NewVBox(widgets.NewWrapped(fmt.Sprintf("How steep is too steep for an escape? Type %d to %d degrees. If you leave the field empty, the limit is 25°, or 20° if the points of the terrain are more than 15 m apart. After a change, tick every escape again.",
			plan.MinOverSteepDeg, plan.MaxOverSteepDeg)), field),
		Submit: func() error {
			before := r.n.Session.Plan().OverSteepDeg
			err := r.n.Session.SetOverSteep(field.Text)
			if err == nil && r.n.Session.Plan().OverSteepDeg != before {
				r.n.Foot.Say("Changed.")
			}
			return err
		},
	})
}
