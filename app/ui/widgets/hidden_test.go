package widgets

import (
	"testing"

	"fyne.io/fyne/v2/test"
)

// What shows nothing is hidden, for the toolkit spends time each frame on all
// that is visible; and it comes back with what it has to show.
func TestNothingToShowIsHidden(t *testing.T) {
	test.NewTempApp(t)
	tool := NewTool("", "hint", nil)
	r := test.WidgetRenderer(tool).(*toolRenderer)
	hidden := func() [4]bool {
		return [4]bool{r.wash.Hidden, r.bar.Hidden, r.icon.Hidden, r.text.Hidden}
	}
	if got, want := hidden(), [4]bool{true, true, true, true}; got != want {
		t.Errorf("an empty tool: wash, bar, icon, text hidden %v, want %v", got, want)
	}
	tool.SetText("Fit")
	tool.SetOn(true)
	tool.FocusGained()
	if got, want := hidden(), [4]bool{false, false, true, false}; got != want {
		t.Errorf("one with words, on and in focus: hidden %v, want %v", got, want)
	}
	tool.FocusLost()
	tool.SetOn(false)
	if got, want := hidden(), [4]bool{true, true, true, false}; got != want {
		t.Errorf("one at rest: hidden %v, want %v", got, want)
	}
	c := NewChooser([]string{"a", "b"}, nil)
	washes := test.WidgetRenderer(c).(*chooserRenderer).washes
	if washes[0].Hidden || !washes[1].Hidden {
		t.Errorf("a chooser's washes hidden: %v, %v; want the chosen one alone seen", washes[0].Hidden, washes[1].Hidden)
	}
}
