package projector_test

import (
	"image"
	"image/color"
	"math"
	"testing"

	"legwright/app/ui/uitest"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/view"
)

// The line of the lesson is at least 4 pixels wide on a window of 1080 lines, and its finest
// line is by the width that the overlay gives it.
func TestLinesAreWide(t *testing.T) {
	x := stand(t)
	x.ShowPicture(x.paper(), false)
	w := x.open(1920, 1080)
	x.lesson.Next()
	x.settle()
	sheet, _ := x.s.Sheet()
	k, ok := overlay.SketchOn(x.s.Reader(), sheet.ID)
	if !ok {
		t.Fatal("no sketch")
	}
	line, _ := x.lesson.Line()
	from, _ := k.End(line.From)
	to, _ := k.End(line.To)
	vermillion := color.NRGBA{R: 0xd5, G: 0x5e, A: 0xff}
	x.Until(t, "the drawing", x.Area().Settled)
	wide := x.across(w, from, to, vermillion)
	const lessonLine = 3.4 // in the overlay's table of lines
	if want := 4 * lessonLine / overlay.FinestLine(); math.Abs(wide-want) > 1.2 || wide < 4 {
		t.Errorf("the line is %.1f pixels wide, want %.1f", wide, want)
	}
}

// paper is a white picture as large as the plan's.
func (x *stood) paper() *pyramid.Pyramid {
	sheet, _ := x.s.Sheet()
	img := image.NewGray(image.Rect(0, 0, sheet.Width, sheet.Height))
	for i := range img.Pix {
		img.Pix[i] = 0xff
	}
	p := pyramid.New(img, pyramid.Options{})
	x.t.Cleanup(p.Close)
	if err := p.WaitWhole(); err != nil {
		x.t.Fatal(err)
	}
	return p
}

// across is how wide a line is drawn in a colour, three quarters along it: there lie
// neither its arc nor a name.
func (x *stood) across(w *uitest.Window, from, to view.PicPt, ink color.NRGBA) float64 {
	img := w.Canvas().Capture()
	v := x.Area().View()
	a, b := v.ToScreen(from), v.ToScreen(to)
	length := a.Dist(b)
	at := view.ScreenPt{X: a.X + 0.75*(b.X-a.X), Y: a.Y + 0.75*(b.Y-a.Y)}
	const step = 0.1
	n := 0
	for s := -20.0; s < 20; s += step {
		p := image.Pt(int(math.Floor(at.X-(b.Y-a.Y)/length*s)), int(math.Floor(at.Y+(b.X-a.X)/length*s)))
		if c := color.NRGBAModel.Convert(img.At(p.X, p.Y)).(color.NRGBA); near(c, ink) {
			n++
		}
	}
	return float64(n) * step
}

func near(a, b color.NRGBA) bool {
	far := func(x, y uint8) bool { return math.Abs(float64(x)-float64(y)) > 60 }
	return !far(a.R, b.R) && !far(a.G, b.G) && !far(a.B, b.B)
}
