package compassview_test

import (
	"bytes"
	"image"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/teach"
	"legwright/app/ui/baseplate"
	"legwright/app/ui/compassview"
	"legwright/app/ui/look"
	"legwright/app/ui/uitest"
	"legwright/app/units"
)

// after is the compass after a step of a line of 057° grid with a GMA of 12° east.
func after(step int, wrong teach.Wrong) baseplate.View {
	return baseplate.ViewOf(teach.Stepping{Step: step, Wrong: wrong}, teach.CompassTask{
		Leg: units.NewGridBearing(units.Degrees(57)), GMA: units.GMA(units.Degrees(12)), HasMagnetic: true, LengthM: 800,
	})
}

// seen is what a window of the compass alone shows.
func seen(w *uitest.Window) *image.NRGBA { return w.Canvas().Capture().(*image.NRGBA) }

// drawn is a view as baseplate draws it at a size in the colours of the light theme.
func drawn(t *testing.T, px int, v baseplate.View) *image.RGBA {
	t.Helper()
	d, err := baseplate.New(px, compassview.InkOf(look.Light()))
	if err != nil {
		t.Fatal(err)
	}
	return d.Draw(v)
}

// The compass stands as the largest square in the middle of its room, pixel for pixel as
// it is drawn, whether it is set or has turned there.
func TestShowsTheLargestSquare(t *testing.T) {
	c := compassview.New()
	w := uitest.NewWindow(t, c)
	for _, room := range []fyne.Size{{Width: 400, Height: 300}, {Width: 260, Height: 420}} {
		w.Resize(room)
		side := int(min(room.Width, room.Height))
		at := image.Pt((int(room.Width)-side)/2, (int(room.Height)-side)/2)
		for _, show := range []struct {
			do func(baseplate.View)
			v  baseplate.View
		}{{c.Set, after(1, teach.DoneRight)}, {c.Turn, after(4, teach.PlateReversed)}, {c.Turn, baseplate.View{Hidden: true}}} {
			show.do(show.v)
			got, want := seen(w), drawn(t, side, show.v)
			if c.Shown() != show.v {
				t.Errorf("%v: it shows %+v", room, c.Shown())
			}
			for y := range side {
				i, j := got.PixOffset(at.X, at.Y+y), want.PixOffset(0, y)
				if !bytes.Equal(got.Pix[i:i+4*side], want.Pix[j:j+4*side]) {
					t.Errorf("%v, step to %v: row %d is not as it is drawn", room, show.v.Plate.Deg(), y)
					break
				}
			}
		}
	}
}

// In a room in which nobody could read it nothing is drawn.
func TestTooSmallIsEmpty(t *testing.T) {
	c := compassview.New()
	w := uitest.NewWindow(t, c)
	w.Resize(fyne.NewSize(baseplate.Smallest-20, baseplate.Smallest-20))
	before := bytes.Clone(seen(w).Pix)
	c.Set(after(4, teach.DoneRight))
	if !bytes.Equal(before, seen(w).Pix) {
		t.Error("something is drawn")
	}
}

// The colours follow the theme.
func TestColoursFollowTheTheme(t *testing.T) {
	c := compassview.New()
	w := uitest.NewWindow(t, c)
	w.Resize(fyne.NewSize(300, 300))
	c.Set(after(2, teach.DoneRight))
	light := bytes.Clone(seen(w).Pix)
	fyne.CurrentApp().Settings().SetTheme(look.New(look.DarkMode))
	c.Refresh()
	if bytes.Equal(light, seen(w).Pix) {
		t.Error("it looks the same in the dark theme")
	}
}
