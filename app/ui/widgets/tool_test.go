package widgets

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"legwright/app/ui/look"
)

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
