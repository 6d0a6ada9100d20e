package teachpanel

import (
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// A figure that nobody may walk on stands in a frame and struck through, another does not.
func TestStruckFigure(t *testing.T) {
	test.NewTempApp(t)
	x := newStruck()
	for _, stopped := range []bool{true, false, true} {
		x.set("045° grid ± 2°", stopped)
		x.body.Resize(x.body.MinSize())
		if x.frame.Visible() != stopped || x.line.Visible() != stopped || (x.label.Importance == widget.DangerImportance) != stopped {
			t.Errorf("stopped %v: frame %v, line %v, importance %v", stopped, x.frame.Visible(), x.line.Visible(), x.label.Importance)
		}
		if f, l := x.frame, x.line; l.Size().Width != f.Size().Width || l.Position().Y <= f.Position().Y || l.Position().Y >= f.Position().Y+f.Size().Height {
			t.Errorf("the line at %v does not go through the frame at %v, %v", l.Position(), f.Position(), f.Size())
		}
	}
}
