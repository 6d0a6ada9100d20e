package sheetview_test

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/uitest"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// bench is a window with the sheet, the dial and the foot line on a session whose
// sheet has four control points: a pixel is ten metres, the top-left corner lies at
// E 20 000 N 744 000 on EPSG:27700.
type bench struct {
	*uitest.Window
	uitest.Queue
	*uitest.Mouse
	s     *session.Session
	line  *foot.Line
	dial  *dial.Dial
	view  *sheetview.View
	tiles *pyramid.Pyramid

	found   []plan.ID // what the window was asked to find
	named   int       // how often it was asked for the name of a mark
	held    []func()  // keeps that wait for the cautions
	hold    bool
	painted painted
}

// painted counts how often what the room shows was changed.
type painted struct{ dial, foot, scene, told int }

func (b *bench) Find(id plan.ID)            { b.found = append(b.found, id) }
func (b *bench) NameMark()                  { b.named++ }
func (b *bench) Typed(rune, *fyne.KeyEvent) {}

func (b *bench) MayKeep(keep func()) {
	if b.hold {
		b.held = append(b.held, keep)
		return
	}
	keep()
}

func newBench(t *testing.T) *bench {
	t.Helper()
	b := &bench{Queue: uitest.NewQueue(), s: uitest.EmptySession(), line: foot.New(), dial: dial.New()}
	w := uitest.NewWindow(t, container.NewWithoutLayout())
	b.Window = w
	b.view = sheetview.New(b.s, b.line, b.dial, b.Later, b)
	b.Mouse = uitest.NewMouse(b.view.Area())
	w.SetContent(container.NewBorder(nil, b.line, nil, b.dial, b.view.Area(), container.NewCenter(b.view.Strip())))
	w.Resize(fyne.NewSize(1280, 800))
	b.tiles = uitest.WhiteSheet(t, b.s)
	b.view.ShowPicture(b.tiles, false)
	b.view.Area().Fit()
	b.view.SetTool(sheetview.Tool{Kind: tool.Sight})
	b.Drain()
	b.count()
	return b
}

// count counts from now on.
func (b *bench) count() {
	b.dial.OnChange = func() { b.painted.dial++ }
	b.line.OnChange(func() { b.painted.foot++ })
	b.view.AddLayer(func(*overlay.Scene) { b.painted.scene++ })
	b.s.OnChange(func(session.Change) { b.painted.told++ })
}

// during returns what was painted by an event, with what waits for its end.
func (b *bench) during(event func()) painted {
	b.Drain()
	b.painted = painted{}
	event()
	b.Drain()
	return b.painted
}

// screen is where a point of the picture is seen.
func (b *bench) screen(col, row float64) (x, y float64) {
	s, scale := b.view.Area().View().ToScreen(view.PicPt{X: col, Y: row}), float64(b.Canvas().Scale())
	return s.X / scale, s.Y / scale
}

// to moves the pointer to a point of the picture.
func (b *bench) to(col, row float64) {
	b.Drain()
	b.Move(b.screen(col, row))
}

// drag drags from one point of the picture to another in five steps.
func (b *bench) drag(x0, y0, x1, y1 float64) {
	b.to(x0, y0)
	b.Press()
	for i := range 5 {
		f := float64(i+1) / 5
		b.to(x0+f*(x1-x0), y0+f*(y1-y0))
	}
	b.Release()
	b.Drain()
}

// near reports whether a picked point is where the pointer set it, to a pixel of the
// screen.
func (b *bench) near(at calib.PicturePt, col, row float64) bool {
	return math.Hypot(at.Col-col, at.Row-row) < 1.5/b.view.Area().View().Scale()
}
