package widgets

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// Each line stands below the one before as it was written, also an empty one, and a line that
// is too wide goes on in the next: no word is lost and none reaches beyond the edge.
func TestPagesShowEveryLine(t *testing.T) {
	themed(t)
	const wide = 300
	long := strings.TrimSpace(strings.Repeat("Wide words WWWW that go on. ", 12))
	p := NewPages("First\n\n   set in\n"+long+"\nlast", wide)
	test.NewTempWindow(t, p)
	high := fyne.MeasureText("Hg", theme.TextSize(), fyne.TextStyle{}).Height + 1
	rows := map[int]string{}
	var middle []string
	for _, o := range test.LaidOutObjects(p) {
		c, ok := o.(*canvas.Text)
		if !ok {
			continue
		}
		if got := c.MinSize().Width; got > wide {
			t.Errorf("%q is %v wide, want %v at most", c.Text, got, wide)
		}
		row := int(c.Position().Y/high + 0.5)
		if other, taken := rows[row]; taken {
			t.Errorf("%q stands on %q", c.Text, other)
		}
		rows[row] = c.Text
		if row > 2 {
			middle = append(middle, c.Text)
		}
	}
	if rows[0] != "First" || rows[1] != "" || rows[2] != "   set in" {
		t.Errorf("the first lines are %q, %q, %q", rows[0], rows[1], rows[2])
	}
	if got, want := strings.Join(middle, " "), long+" last"; got != want || len(middle) < 4 {
		t.Errorf("got %d lines %q, want %q", len(middle), got, want)
	}
	if got, want := p.MinSize(), fyne.NewSize(wide, float32(3+len(middle))*high); got != want {
		t.Errorf("it needs %v, want %v", got, want)
	}
}
