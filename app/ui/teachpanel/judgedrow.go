package teachpanel

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/lettering"
	"legwright/app/teach"
	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
)

// judgedText is what a row says of a mark or feature.
type judgedText struct {
	key     string // of what it speaks
	name    string
	figure  string // at the right: the chance
	note    string // in small letters below
	verdict teach.Verdict
	stopped bool
	chosen  bool
}

// judgedRow is a row of a list of marks and features, which a click or the keys choose.
type judgedRow struct {
	widget.BaseWidget
	list           *judgedList
	text           judgedText
	hover, focused bool
}

var (
	_ desktop.Hoverable = (*judgedRow)(nil)
	_ fyne.Focusable    = (*judgedRow)(nil)
	_ fyne.Tappable     = (*judgedRow)(nil)
)

func newJudgedRow(l *judgedList) *judgedRow {
	r := &judgedRow{list: l}
	r.ExtendBaseWidget(r)
	return r
}

// set shows another text.
func (r *judgedRow) set(t judgedText) {
	if r.text != t {
		r.text = t
		r.Refresh()
	}
}

// Text is the name, for tests and for those who read it aloud.
func (r *judgedRow) Text() string { return r.text.name }

// Tapped chooses; Fyne calls it.
func (r *judgedRow) Tapped(*fyne.PointEvent) { r.list.choose(r.text.key) }

// MouseIn follows the pointer; Fyne calls it.
func (r *judgedRow) MouseIn(*desktop.MouseEvent) { r.hover = true; r.Refresh() }

// MouseMoved is Fyne's.
func (r *judgedRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends what MouseIn began; Fyne calls it.
func (r *judgedRow) MouseOut() { r.hover = false; r.Refresh() }

// FocusGained shows the focus; Fyne calls it.
func (r *judgedRow) FocusGained() { r.focused = true; r.Refresh() }

// FocusLost ends what FocusGained began; Fyne calls it.
func (r *judgedRow) FocusLost() { r.focused = false; r.Refresh() }

// TypedRune leaves letters to the window; Fyne calls it.
func (r *judgedRow) TypedRune(l rune) { widgets.RuneToWindow(r, l) }

// TypedKey chooses, goes to the row above or below, or takes a feature out of the list. A
// presenter's keys it leaves to the window.
func (r *judgedRow) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		r.list.choose(r.text.key)
	case fyne.KeyUp:
		r.list.step(r, -1)
	case fyne.KeyDown:
		r.list.step(r, 1)
	case fyne.KeyDelete:
		r.list.remove(r.text.key)
	case fyne.KeyEscape:
		r.list.leave()
	case fyne.KeyPageUp, fyne.KeyPageDown:
		widgets.KeyToWindow(r, e)
	}
}

// CreateRenderer is Fyne's.
func (r *judgedRow) CreateRenderer() fyne.WidgetRenderer {
	out := &judgedRenderer{r: r, wash: canvas.NewRectangle(color.Transparent), bar: canvas.NewRectangle(color.Transparent)}
	out.name, out.figure, out.note = canvas.NewText("", nil), canvas.NewText("", nil), widgets.NewFigureLine()
	out.Refresh()
	return out
}

type judgedRenderer struct {
	r            *judgedRow
	wash, bar    *canvas.Rectangle
	name, figure *canvas.Text
	note         *widgets.FigureLine
}

// judgedLeft is the space left of the words, judgedTop that above them, in units of the
// window.
const (
	judgedLeft = float32(9)
	judgedTop  = float32(2)
)

// Destroy is Fyne's.
func (x *judgedRenderer) Destroy() {}

// Objects are the wash, the bar of the verdict and the texts.
func (x *judgedRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{x.wash, x.bar, x.name, x.figure, x.note}
}

// MinSize is that of two lines.
func (x *judgedRenderer) MinSize() fyne.Size {
	return fyne.NewSize(120, x.name.MinSize().Height+x.note.MinSize().Height+2*judgedTop)
}

// Layout places the texts, with the name cut to what the figure leaves.
func (x *judgedRenderer) Layout(size fyne.Size) {
	x.wash.Resize(size)
	x.bar.Move(fyne.NewPos(0, judgedTop))
	x.bar.Resize(fyne.NewSize(3, size.Height-2*judgedTop))
	f := x.figure.MinSize()
	x.figure.Move(fyne.NewPos(size.Width-f.Width-4, judgedTop))
	x.figure.Resize(f)
	x.name.Text = cutTo(x.r.text.name, size.Width-judgedLeft-f.Width-12, x.name)
	x.name.Move(fyne.NewPos(judgedLeft, judgedTop))
	x.name.Resize(x.name.MinSize())
	x.note.Move(fyne.NewPos(judgedLeft, judgedTop+x.name.MinSize().Height))
	x.note.Resize(fyne.NewSize(max(size.Width-judgedLeft-4, 0), x.note.MinSize().Height))
}

// cutTo cuts a name in its middle until it fits a width.
func cutTo(name string, width float32, like *canvas.Text) string {
	text := lettering.Shown(name)
	for n := len([]rune(text)); n > 4 && fyne.MeasureText(text, like.TextSize, like.TextStyle).Width > width; n-- {
		text = widgets.CutMiddle(lettering.Shown(name), n)
	}
	return text
}

// Refresh takes the text and the theme's colours.
func (x *judgedRenderer) Refresh() {
	t, now := x.r.text, look.Current()
	ink := func(c *canvas.Text, text string, name look.Role, size float32) {
		c.Text, c.Color, c.TextSize = lettering.Shown(text), now[name], size
	}
	x.name.TextStyle.Bold, x.figure.TextStyle.Bold = t.chosen, t.chosen
	ink(x.name, t.name, look.Ink, theme.TextSize())
	ink(x.figure, t.figure, look.Ink, theme.TextSize())
	noteInk := look.Quiet
	if t.stopped {
		noteInk = look.Fault
	}
	x.note.Set(t.note, noteInk)
	x.bar.FillColor, x.bar.Hidden = now[look.Good], t.verdict != teach.Likely && t.verdict != teach.Possible
	if t.verdict == teach.Possible {
		x.bar.FillColor = now[look.Caution]
	}
	x.wash.FillColor, x.wash.StrokeWidth, x.wash.StrokeColor = color.Transparent, 0, color.Transparent
	if t.chosen || x.r.hover {
		x.wash.FillColor = theme.Color(theme.ColorNameHover)
	}
	if x.r.focused {
		x.wash.StrokeWidth, x.wash.StrokeColor = 1, theme.Color(theme.ColorNamePrimary)
	}
	x.Layout(x.r.Size())
	canvas.Refresh(x.r)
}
