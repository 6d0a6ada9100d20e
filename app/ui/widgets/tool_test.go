package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"legwright/app/ui/look"
)

// A button that its own act moves from under the pointer is not highlighted any more; one that
// comes back under it is, as soon as the pointer moves.
func TestAToolThatMovedIsNotHighlighted(t *testing.T) {
	test.NewTempApp(t)
	var tool *Tool
	var by float32
	tool = NewTextTool("", "Delete", "Delete it", func() { tool.Move(tool.Position().AddXY(0, by)) })
	hint := ""
	tool.OnHint = func(h string) { hint = h }
	w := test.NewTempWindow(t, container.NewWithoutLayout(tool))
	tool.Resize(fyne.NewSize(80, 30))
	w.Resize(fyne.NewSize(200, 200))
	tool.MouseIn(nil)
	for _, by = range []float32{0, 40} {
		tool.Tapped(nil)
		if on := by == 0; tool.hover != on || (hint != "") != on {
			t.Errorf("moved by %v: highlighted %v, hint %q", by, tool.hover, hint)
		}
	}
	if tool.MouseMoved(nil); !tool.hover || hint == "" {
		t.Error("the pointer moves over the button, and it is not highlighted")
	}
}

// TestToolDrawsItsIconOnce: the toolkit reads and draws an icon whenever it is
// refreshed; passing over a tool needs none of that, switching it on does.
func TestToolDrawsItsIconOnce(t *testing.T) {
	test.NewTempApp(t).Settings().SetTheme(look.New(look.LightMode))
	tool := NewTextTool(look.IconFit, "Fit", "", func() {})
	r := test.TempWidgetRenderer(t, tool).(*toolRenderer)
	first := r.icon.Resource
	tool.MouseIn(nil)
	tool.MouseOut()
	if r.icon.Resource != first {
		t.Error("the icon was drawn again when the pointer passed over the tool")
	}
	for _, c := range []struct {
		name   string
		change func()
	}{
		{"switched on", func() { tool.SetOn(true) }},
		{"another icon", func() { tool.SetIcon(look.IconUndo) }},
		{"another theme", func() { test.NewTempApp(t).Settings().SetTheme(look.New(look.DarkMode)); tool.Refresh() }},
	} {
		before := r.icon.Resource
		if c.change(); r.icon.Resource == before {
			t.Errorf("%s: the icon was not drawn again", c.name)
		}
	}
}
