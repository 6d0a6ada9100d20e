package escapepanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/escape"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
)

// outing is what is asked once an outing: whether snow is lying, and by which event of the
// day the party must be off.
type outing struct {
	n       *Needs
	body    fyne.CanvasObject
	snow    *widgets.Select
	until   *widgets.Select
	latest  *widgets.EditField
	filling bool
}

func newOuting(n *Needs) *outing {
	o := &outing{n: n}
	o.snow = widgets.NewSelect([]string{"Yes", "No"}, func(string) {
		if !o.filling {
			n.Foot.Try(n.Session.SetSnow([]plan.Snow{plan.SnowLying, plan.NoSnow}[o.snow.SelectedIndex()]), "Noted for this outing.")
		}
	}, n.View.Focus, n.View.Focus)
	o.until = widgets.NewSelect([]string{"Sunset", "End of twilight"}, func(string) {
		if !o.filling {
			t := n.Session.Plan().Timing
			t.UntilDusk = o.until.SelectedIndex() == 1
			n.Foot.Try(n.Session.SetTiming(t), "Changed.")
		}
	}, n.View.Focus, n.View.Focus)
	o.latest = widgets.NewEditField("if earlier, such as 17:30", func(text string) bool {
		return n.Foot.Try(n.Session.SetLatest(text), "Changed.")
	}, n.View.Focus)
	o.body = container.NewVBox(widgets.NewLabelled("is snow lying?", o.snow), widgets.NewLabelled("off the hill by", o.until), widgets.NewLabelled("your own time", n.wheeled(o.latest)))
	return o
}

// fill shows what was answered, once there is an escape.
func (o *outing) fill(p *plan.Plan, j escape.Judged) {
	o.filling = true
	defer func() { o.filling = false }()
	visible(o.body, len(j.Escapes) > 0)
	switch p.Snow {
	case plan.SnowLying:
		o.snow.SetSelectedIndex(0)
	case plan.NoSnow:
		o.snow.SetSelectedIndex(1)
	default:
		o.snow.ClearSelected()
	}
	o.until.SetSelectedIndex(map[bool]int{true: 1}[p.Timing.UntilDusk])
	o.latest.ShowText("", p.Timing.Latest.String())
}
