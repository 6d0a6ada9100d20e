package widgets_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"legwright/app/ui/widgets"
)

// What was selected in a field costs no letter of what is typed after the field was
// emptied, or filled anew.
func TestFilledFieldTakesEveryLetter(t *testing.T) {
	test.NewTempApp(t)
	edit := widgets.NewEditField("", func(string) bool { return true }, func() {})
	escape := widgets.NewEscapeEntry("", nil, func() {})
	for name, field := range map[string]interface {
		fyne.Shortcutable
		SetText(string)
		TypedRune(rune)
		SelectedText() string
	}{"edit": edit, "escape": escape} {
		for _, fill := range []string{"", "057"} {
			field.SetText("312000")
			field.TypedShortcut(&fyne.ShortcutSelectAll{})
			if field.SelectedText() == "" {
				t.Fatalf("%s: nothing is selected", name)
			}
			field.SetText(fill)
			for _, r := range "123" {
				field.TypedRune(r)
			}
			field.TypedShortcut(&fyne.ShortcutSelectAll{})
			if got, want := field.SelectedText(), fill+"123"; got != want {
				t.Errorf("%s field filled with %q holds %q, want %q", name, fill, got, want)
			}
			field.SetText("")
		}
	}
}
