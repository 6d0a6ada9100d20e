package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Tool is a quiet button: an icon, words, or both, without a box of its own.
// While it is on, an accent bar shows it. Its hint goes to OnHint while the
// pointer or the keyboard is on it, for the foot line; the hint of an icon without
// words also appears beside it.
type Tool struct {
	widget.DisableableWidget
	// OnTapped is called by a click and by the space and return keys.
	OnTapped func()
	// OnHint is called with the hint, and with "" when it no longer holds.
	OnHint func(hint string)
	// OnFocus, where it is set, is called when the button gains the focus.
	OnFocus func()

	icon           fyne.ThemeIconName
	text, hint     string
	on             bool
	wide           bool
	hover, focused bool
}

var (
	_ desktop.Hoverable = (*Tool)(nil)
	_ fyne.Focusable    = (*Tool)(nil)
	_ fyne.Tappable     = (*Tool)(nil)
)

// NewTool returns a square button that shows an icon of app/ui/look.
func NewTool(icon fyne.ThemeIconName, hint string, tapped func()) *Tool {
	return newTool(&Tool{icon: icon, hint: hint, OnTapped: tapped})
}

// NewTextTool returns a button of words, with an icon before them unless icon
// is empty.
func NewTextTool(icon fyne.ThemeIconName, text, hint string, tapped func()) *Tool {
	return newTool(&Tool{icon: icon, text: text, hint: hint, OnTapped: tapped})
}

// NewEntry returns an entry of a list such as the panels: icon and words at the
// left, a bar at the left edge while it is on, filling the width.
func NewEntry(icon fyne.ThemeIconName, text, hint string, tapped func()) *Tool {
	return newTool(&Tool{icon: icon, text: text, hint: hint, wide: true, OnTapped: tapped})
}

func newTool(t *Tool) *Tool { t.ExtendBaseWidget(t); return t }

// SetOn turns the accent bar on or off.
func (t *Tool) SetOn(on bool) {
	if t.on != on {
		t.on = on
		t.Refresh()
	}
}

// On reports whether the tool is on.
func (t *Tool) On() bool { return t.on }

// Hint returns what the tool is for.
func (t *Tool) Hint() string { return t.hint }

// SetHint changes the hint, such as "Undo move mark · Ctrl+Z".
func (t *Tool) SetHint(hint string) { t.hint = hint }

// SetIcon changes the icon.
func (t *Tool) SetIcon(icon fyne.ThemeIconName) { t.icon = icon; t.Refresh() }

// Text returns the words, for tests and for those who read them aloud.
func (t *Tool) Text() string { return t.text }

// SetText changes the words.
func (t *Tool) SetText(text string) {
	if t.text != text {
		t.text = text
		t.Refresh()
	}
}

// Tapped acts; Fyne calls it.
func (t *Tool) Tapped(*fyne.PointEvent) { t.act() }

func (t *Tool) act() {
	tipsOver(t).point(nil, "")
	if t.Disabled() || t.OnTapped == nil {
		return
	}
	at := t.position()
	if t.OnTapped(); t.hover && t.position() != at {
		t.MouseOut() // it went away under the pointer, which the toolkit notices once the pointer moves
	}
}

// position is where the button is seen in the window.
func (t *Tool) position() fyne.Position {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(t)
}

// say hands over the hint; that of an icon without words also shows beside it.
func (t *Tool) say(hint string) {
	if t.text == "" {
		tipsOver(t).point(t, hint)
	}
	if t.OnHint != nil {
		t.OnHint(hint)
	}
}

// MouseIn, MouseMoved and MouseOut follow the pointer; Fyne calls them.
func (t *Tool) MouseIn(*desktop.MouseEvent) { t.hover = true; t.say(t.hint); t.Refresh() }

// MouseMoved is MouseIn for a button that came back under the pointer; Fyne calls it.
func (t *Tool) MouseMoved(e *desktop.MouseEvent) {
	if !t.hover {
		t.MouseIn(e)
	}
}

// MouseOut ends what MouseIn began.
func (t *Tool) MouseOut() { t.hover = false; t.say(""); t.Refresh() }

// FocusGained shows the focus frame and the hint; Fyne calls it.
func (t *Tool) FocusGained() {
	t.focused = true
	t.say(t.hint)
	t.Refresh()
	if t.OnFocus != nil {
		t.OnFocus()
	}
}

// FocusLost ends what FocusGained began.
func (t *Tool) FocusLost() { t.focused = false; t.say(""); t.Refresh() }

// TypedRune leaves letters to the window; Fyne calls it.
func (t *Tool) TypedRune(r rune) { RuneToWindow(t, r) }

// TypedKey acts on space and return, and leaves Escape and a presenter's keys to the window.
func (t *Tool) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		t.act()
	case fyne.KeyEscape, fyne.KeyPageUp, fyne.KeyPageDown:
		KeyToWindow(t, e)
	}
}

// RuneToWindow gives a letter to the window, as if nothing had the focus.
func RuneToWindow(o fyne.CanvasObject, r rune) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

// KeyToWindow gives a key to the window, as if nothing had the focus.
func KeyToWindow(o fyne.CanvasObject, e *fyne.KeyEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(o); c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(e)
	}
}

// CreateRenderer makes the button; Fyne calls it.
func (t *Tool) CreateRenderer() fyne.WidgetRenderer {
	r := &toolRenderer{
		tool: t, wash: canvas.NewRectangle(color.Transparent), bar: canvas.NewRectangle(color.Transparent),
		icon: canvas.NewImageFromResource(nil), text: canvas.NewText("", nil),
	}
	r.icon.FillMode = canvas.ImageFillContain
	r.colour()
	return r
}

type toolRenderer struct {
	tool      *Tool
	wash, bar *canvas.Rectangle
	icon      *canvas.Image
	drawn     drawnIcon // what icon shows
	text      *canvas.Text
}

// drawnIcon is an icon in a colour. The toolkit draws one anew each time it is
// refreshed.
type drawnIcon struct {
	name fyne.ThemeIconName
	ink  color.Color
}

func (r *toolRenderer) Destroy() {}

func (r *toolRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.wash, r.bar, r.icon, r.text}
}

// inset is the space between a tool's edge and what it shows, gap that between
// icon and words, in DIP.
const (
	toolInset = 9
	toolGap   = 8
)

func (r *toolRenderer) MinSize() fyne.Size {
	side := theme.Size(look.SizeTool)
	if r.tool.text == "" {
		return fyne.NewSize(side, side)
	}
	w := r.text.MinSize().Width + 2*toolInset
	if r.tool.icon != "" {
		w += theme.IconInlineSize() + toolGap
	}
	if r.tool.wide {
		return fyne.NewSize(w, side)
	}
	return fyne.NewSize(w, side-4)
}

func (r *toolRenderer) Layout(s fyne.Size) {
	icon := theme.IconInlineSize()
	r.wash.Resize(s)
	if r.tool.wide {
		r.bar.Move(fyne.NewPos(0, 4))
		r.bar.Resize(fyne.NewSize(3, s.Height-8))
	} else {
		r.bar.Move(fyne.NewPos(5, s.Height-2))
		r.bar.Resize(fyne.NewSize(s.Width-10, 2))
	}
	r.icon.Resize(fyne.NewSquareSize(icon))
	text := r.text.MinSize()
	r.text.Resize(text)
	if r.tool.text == "" {
		r.icon.Move(fyne.NewPos((s.Width-icon)/2, (s.Height-icon)/2))
		return
	}
	x := (s.Width - r.MinSize().Width) / 2
	if r.tool.wide {
		x = 3
	}
	x += toolInset
	if r.tool.icon != "" {
		r.icon.Move(fyne.NewPos(x, (s.Height-icon)/2))
		x += icon + toolGap
	}
	r.text.Move(fyne.NewPos(x, (s.Height-text.Height)/2))
}

func (r *toolRenderer) Refresh() {
	r.colour()
	r.Layout(r.tool.Size())
}

func (r *toolRenderer) colour() {
	t := r.tool
	ink := theme.ColorNameForeground
	switch {
	case t.Disabled():
		ink = theme.ColorNameDisabled
	case t.on:
		ink = theme.ColorNamePrimary
	}
	write(r.text, t.text, ink, theme.SizeNameText)
	r.icon.Hidden = t.icon == "" // else the toolkit makes a texture of nothing, every frame
	if now := (drawnIcon{t.icon, theme.Color(ink)}); now != r.drawn && t.icon != "" {
		r.drawn = now
		r.icon.Resource = look.IconIn(t.icon, ink)
		r.icon.Refresh()
	}

	var fill color.Color = color.Transparent
	if t.hover && !t.Disabled() {
		fill = theme.Color(theme.ColorNameHover)
	}
	var frame color.Color = color.Transparent
	if t.focused {
		frame = theme.Color(theme.ColorNamePrimary)
	}
	paint(r.wash, fill, frame, 1)
	bar := color.Color(color.Transparent)
	if t.on {
		bar = theme.Color(theme.ColorNamePrimary)
	}
	paint(r.bar, bar, nil, 0)
}
