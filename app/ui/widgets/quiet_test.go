package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// A quiet label has the quiet colour of the theme in force, which the tests of look hold to
// 4.5 : 1, whatever is written on it, and says a fault in the colour of faults.
func TestQuietIsQuietNotFaint(t *testing.T) {
	app := test.NewTempApp(t)
	app.Settings().SetTheme(look.New(look.LightMode))
	q := NewWrappedQuiet("angle from")
	test.NewTempWindow(t, q)
	holds := func(when, text string, want look.Palette, role look.Role) {
		t.Helper()
		n := 0
		for _, o := range test.LaidOutObjects(q) {
			if c, ok := o.(*canvas.Text); ok {
				if n++; c.Text != text || c.Color != want[role] {
					t.Errorf("%s: %q in %v, want %q in %v", when, c.Text, c.Color, text, want[role])
				}
			}
		}
		if n != 1 {
			t.Errorf("%s: %d texts, want one", when, n)
		}
	}
	q.Resize(fyne.NewSize(300, 40))
	holds("new", "angle from", look.Light(), look.Quiet)
	q.SetText("training GMA")
	holds("changed", "training GMA", look.Light(), look.Quiet)
	app.Settings().SetTheme(look.New(look.DarkMode))
	q.Refresh()
	holds("dark", "training GMA", look.Dark(), look.Quiet)
	q.Importance = widget.DangerImportance
	SetText(q, "no such folder")
	holds("a fault", "no such folder", look.Dark(), look.Fault)
	q.Importance = widget.LowImportance
	SetText(q, "a folder")
	holds("mended", "a folder", look.Dark(), look.Quiet)
}
