package teachpanel

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/plan"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// standpoint is where a person stands: clicked on the sheet, a mark, or typed.
type standpoint struct {
	n       *Needs
	body    fyne.CanvasObject
	field   *widgets.EditField
	pick    *widgets.Tool
	hint    string // of pick
	end     plan.End
	known   bool
	picking bool // the next click is the position
	changed func()
}

func newStandpoint(n *Needs, label, hint string, changed func()) *standpoint {
	x := &standpoint{n: n, hint: hint, changed: changed}
	x.field = widgets.NewEditField("a mark or a reference", x.set, n.View.Focus)
	x.pick = widgets.NewTool(look.IconMark, hint+"  (F)", x.togglePicking)
	x.pick.OnHint = n.Foot.Hint
	x.body = labelled(label, container.NewBorder(nil, nil, nil, x.pick, widgets.NewWheeled(x.field, n.wheel)))
	return x
}

// set takes what was typed, a name, a letter or a reference, and brings it into sight.
// Nothing takes it away.
func (x *standpoint) set(text string) bool {
	if text == "" {
		x.forget()
		return true
	}
	end, err := x.n.Session.ParseEnd(text)
	if !x.n.Foot.Try(err, "") {
		return false
	}
	x.take(end)
	pos, _ := x.position()
	x.n.bring(pos)
	return true
}

// take goes to a position.
func (x *standpoint) take(end plan.End) {
	x.end, x.known = end, true
	x.n.obeyed()
	x.setPicking(false)
	x.fill()
	x.changed()
}

// forget leaves the position.
func (x *standpoint) forget() {
	x.end, x.known = plan.End{}, false
	x.changed()
}

// wants reports whether a click on the sheet is the position.
func (x *standpoint) wants() bool { return x.picking || !x.known }

// click takes a click on the sheet.
func (x *standpoint) click(at tool.Spot) {
	end, err := x.n.View.EndAt(at)
	if x.n.Foot.Try(err, "") {
		x.take(end)
	}
}

// togglePicking has the next click on the sheet be the position, or not.
func (x *standpoint) togglePicking() {
	x.setPicking(!x.picking)
	if x.picking {
		x.n.urge(x.hint + ".")
	}
	x.n.View.Focus()
}

func (x *standpoint) setPicking(on bool) {
	x.picking = on
	x.pick.SetOn(on)
}

// fill shows the position as it is called now.
func (x *standpoint) fill() {
	text := ""
	if x.known {
		text = x.name()
	}
	x.field.ShowText("", text)
}

// name is what people call the position: its mark, or its reference.
func (x *standpoint) name() string {
	if m, ok := x.n.Session.Plan().MarkByID(x.end.Mark); ok {
		return m.Name
	}
	pos, _ := x.position()
	if pos.Origin == plan.Typed && pos.Text != "" {
		return pos.Text
	}
	ref, err := x.n.Session.Reader().Reference(pos)
	if err != nil {
		return "a position"
	}
	return ref
}

// position is where that is now: a mark may have moved, and a sheet been calibrated anew.
func (x *standpoint) position() (plan.Position, bool) {
	return asNow(x.n, x.n.Session.Plan().Resolve(x.end)), x.known
}

// asNow is a position that is not part of the plan as its sheet is calibrated now.
func asNow(n *Needs, pos plan.Position) plan.Position {
	sheet, ok := n.Session.Plan().SheetByID(pos.Sheet)
	if pos.Origin != plan.Picked || !ok {
		return pos
	}
	c, err := n.Session.Reader().CalibrationOf(sheet.ID)
	if err != nil {
		return pos
	}
	return plan.PickedAt(sheet, c, pos.At, pos.PickSigmaPx)
}

// onSheet is where the position lies in the picture, false where it cannot be drawn.
func (x *standpoint) onSheet(k overlay.Sketch) (view.PicPt, bool) {
	pos, ok := x.position()
	if !ok {
		return view.PicPt{}, false
	}
	return k.Position(pos)
}

// bring brings a position of the sheet that is seen into sight, with those who stand on it.
// What is in sight already stays where it is.
func (n *Needs) bring(pos plan.Position, with ...*standpoint) {
	k, ok := n.View.Sketch()
	sheet, open := n.Session.Sheet()
	at, on := k.Position(pos)
	if !ok || !open || !on || !within(at, sheet) || n.View.InView(at) {
		return
	}
	points := []view.PicPt{at}
	for _, p := range with {
		if from, on := p.onSheet(k); on && within(from, sheet) {
			points = append(points, from)
		}
	}
	n.View.Area().ShowRect(view.RectOf(points...))
}

// off says that the position is not on the sheet that is seen; "" where it is.
func (x *standpoint) off() string {
	k, ok := x.n.View.Sketch()
	if !ok || !x.known {
		return ""
	}
	at, drawn := x.onSheet(k)
	sheet, _ := x.n.Session.Sheet()
	if drawn && at.X >= 0 && at.Y >= 0 && at.X <= float64(sheet.Width) && at.Y <= float64(sheet.Height) {
		return ""
	}
	return x.name() + " is off this sheet."
}
