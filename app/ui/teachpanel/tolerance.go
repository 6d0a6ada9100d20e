package teachpanel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/teach"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// tolerance is the ± of bearings that somebody takes.
type tolerance struct {
	n       *Needs
	stage   *stage
	body    fyne.CanvasObject
	field   *widgets.EditField
	half    units.Angle
	changed func()
}

// toleranceWidth is that of the field, in units of the window.
const toleranceWidth = float32(80)

func newTolerance(n *Needs, st *stage, changed func()) *tolerance {
	x := &tolerance{n: n, stage: st, half: units.Degrees(teach.DefaultToleranceDeg), changed: changed}
	x.field = widgets.NewEditField("± 5°", x.set, n.View.Focus)
	x.field.Scroll = fyne.ScrollNone
	x.body = container.NewGridWrap(fyne.NewSize(toleranceWidth, x.field.MinSize().Height), widgets.NewWheeled(x.field, n.wheel))
	x.fill()
	return x
}

// set takes what was typed in the units of the compass, or in those that it names; nothing
// goes back to the usual.
func (x *tolerance) set(text string) bool {
	half := units.Degrees(teach.DefaultToleranceDeg)
	if strings.TrimSpace(text) != "" {
		v, err := units.ParseBearing(strings.TrimLeft(text, " ±"), x.stage.circle())
		if err != nil {
			x.n.Foot.Fail(&units.BadText{Text: text, Want: "type the ± of the bearing, such as " + x.written(half)})
			return false
		}
		half = v
	}
	if !x.n.Foot.Try(teach.CheckTolerance(half), "") {
		return false
	}
	x.half = half
	x.fill()
	x.changed()
	return true
}

// fill shows the ± in the units of the compass.
func (x *tolerance) fill() { x.field.ShowText("", x.written(x.half)) }

func (x *tolerance) written(half units.Angle) string {
	c := x.stage.circle()
	v := half.Deg() / 360 * c.PerTurn()
	switch c {
	case units.Mils6400:
		return fmt.Sprintf("± %.0f mil", v)
	case units.Gon400:
		return fmt.Sprintf("± %.3g gon", v)
	}
	return fmt.Sprintf("± %.3g°", v)
}
