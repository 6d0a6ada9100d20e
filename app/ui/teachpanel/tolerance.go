package teachpanel

import (
	"fmt"
	"strconv"
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
	body    fyne.CanvasObject
	field   *widgets.EditField
	half    units.Angle
	changed func()
}

// toleranceWidth is that of the field, in units of the window.
const toleranceWidth = float32(64)

func newTolerance(n *Needs, changed func()) *tolerance {
	x := &tolerance{n: n, half: units.Degrees(teach.DefaultToleranceDeg), changed: changed}
	x.field = widgets.NewEditField("± 5°", x.set, n.View.Focus)
	x.field.Scroll = fyne.ScrollNone
	x.body = container.NewGridWrap(fyne.NewSize(toleranceWidth, x.field.MinSize().Height), widgets.NewWheeled(x.field, n.wheel))
	x.fill()
	return x
}

// set takes what was typed; nothing goes back to the usual.
func (x *tolerance) set(text string) bool {
	half := units.Degrees(teach.DefaultToleranceDeg)
	if body := strings.Trim(strings.ReplaceAll(text, ",", "."), " ±°"); body != "" || strings.TrimSpace(text) != "" {
		v, err := strconv.ParseFloat(body, 64)
		if err != nil {
			x.n.Foot.Fail(&units.BadText{Text: text, Want: "type the ± of the bearing in degrees, such as 5"})
			return false
		}
		half = units.Degrees(v)
	}
	if !x.n.Foot.Try(teach.CheckTolerance(half), "") {
		return false
	}
	x.half = half
	x.fill()
	x.changed()
	return true
}

func (x *tolerance) fill() { x.field.ShowText("", fmt.Sprintf("± %.3g°", x.half.Deg())) }
