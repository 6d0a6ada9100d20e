package uitest

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/widgets"
)

// root returns what a person can work with: the topmost dialog or menu, or else
// the content.
func (w *Window) root() fyne.CanvasObject {
	if top := w.Canvas().Overlays().Top(); top != nil {
		return top
	}
	return w.Content()
}

// walk calls visit for every visible object below o with its ancestors, outermost
// first, until it returns true.
func walk(o fyne.CanvasObject, above []fyne.CanvasObject, visit func(o fyne.CanvasObject, above []fyne.CanvasObject) bool) bool {
	if o == nil || !o.Visible() {
		return false
	}
	if visit(o, above) {
		return true
	}
	above = append(above[:len(above):len(above)], o)
	for _, c := range children(o) {
		if walk(c, above, visit) {
			return true
		}
	}
	return false
}

func children(o fyne.CanvasObject) []fyne.CanvasObject {
	switch o := o.(type) {
	case *fyne.Container:
		return o.Objects
	case fyne.Widget:
		return test.WidgetRenderer(o).Objects()
	}
	return nil
}

// named is a control without words, which its hint names.
type named interface{ Hint() string }

// Find returns the visible object of type T with a label, the hint of an icon or
// the placeholder of a field, in the topmost dialog if there is one; the hint may be
// longer. It returns false where there is none.
func Find[T any](w *Window, label string) (T, bool) {
	var found T
	ok := walk(w.root(), nil, func(o fyne.CanvasObject, above []fyne.CanvasObject) bool {
		if !says(o, label) {
			return false
		}
		for _, c := range backward(append(above[:len(above):len(above)], o)) {
			if t, ok := c.(T); ok {
				found = t
				return true
			}
		}
		return false
	})
	return found, ok
}

func backward(list []fyne.CanvasObject) []fyne.CanvasObject {
	out := make([]fyne.CanvasObject, 0, len(list))
	for i := len(list) - 1; i >= 0; i-- {
		out = append(out, list[i])
	}
	return out
}

func says(o fyne.CanvasObject, label string) bool {
	switch o := o.(type) {
	case *canvas.Text:
		return o.Text == label
	case *widget.Label:
		return o.Text == label
	case *widgets.Quiet:
		return o.Text == label
	case named:
		return strings.HasPrefix(o.Hint(), label)
	case *widget.Entry:
		return o.PlaceHolder == label
	case *widgets.EscapeEntry:
		return o.PlaceHolder == label
	case *widgets.EditField:
		return o.PlaceHolder == label
	}
	return false
}

// Tap clicks the control with a label or hint, and fails the test where there is none.
func (w *Window) Tap(t testing.TB, label string) {
	t.Helper()
	c, ok := Find[fyne.Tappable](w, label)
	if !ok {
		t.Fatalf("nothing to click says %q; there is %q", label, w.Texts())
	}
	if d, ok := c.(fyne.Disableable); ok && d.Disabled() {
		t.Fatalf("%q cannot be clicked now", label)
	}
	c.Tapped(&fyne.PointEvent{})
}

// DoubleTap double-clicks the object with a label, and fails the test where there
// is none.
func (w *Window) DoubleTap(t testing.TB, label string) {
	t.Helper()
	c, ok := Find[fyne.DoubleTappable](w, label)
	if !ok {
		t.Fatalf("nothing to double-click says %q; there is %q", label, w.Texts())
	}
	c.DoubleTapped(&fyne.PointEvent{})
}

// FocusOn gives the focus to the field with a placeholder, a label or a hint, and
// fails the test where there is none.
func (w *Window) FocusOn(t testing.TB, label string) {
	t.Helper()
	f, ok := Find[fyne.Focusable](w, label)
	if !ok {
		t.Fatalf("no field says %q; there is %q", label, w.Texts())
	}
	w.Canvas().Focus(f)
}

// Texts returns the words that stand in the topmost dialog, or else in the window, in
// the order they are drawn. Lines of one text are joined by spaces.
func (w *Window) Texts() []string {
	var list []string
	walk(w.root(), nil, func(o fyne.CanvasObject, _ []fyne.CanvasObject) bool {
		switch o := o.(type) {
		case *canvas.Text:
			if o.Text != "" {
				list = append(list, o.Text)
			}
		case *widget.Label:
			if o.Text != "" {
				list = append(list, o.Text)
			}
		case *widgets.Quiet:
			if o.Text != "" {
				list = append(list, o.Text)
			}
		case interface{ Text() string }: // a sentence is drawn line by line
			if o.Text() != "" {
				list = append(list, o.Text())
			}
		}
		return false
	})
	return list
}

// Shows reports whether the topmost dialog, or else the window, shows a text.
func (w *Window) Shows(text string) bool {
	for _, t := range w.Texts() {
		if strings.Contains(t, text) {
			return true
		}
	}
	return false
}

// All returns the visible objects of type T in the topmost dialog, or else in the window,
// in the order they are drawn.
func All[T any](w *Window) (list []T) {
	walk(w.root(), nil, func(o fyne.CanvasObject, _ []fyne.CanvasObject) bool {
		if t, ok := o.(T); ok {
			list = append(list, t)
		}
		return false
	})
	return list
}
