package mapview

import (
	"fmt"
	"image"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"legwright/canvas/overlay"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// logged is a rig over a sheet shown one to one, its corner at the map
// area's, that writes down what it reports.
func logged(t *testing.T) (*rig, func() string) {
	var log []string
	note := func(format string, args ...any) { log = append(log, fmt.Sprintf(format, args...)) }
	at := func(s tool.Spot) string { return fmt.Sprintf("%.0f,%.0f%s", s.At.X-0.5, s.At.Y-0.5, s.Target.ID) }
	r := newRig(t, addressed(1300, 1100), 1, 700, 500, 33.3, 21.7, Callbacks{
		OnLive:      func(f, to tool.Spot) { note("live %s→%s", at(f), at(to)) },
		OnRelease:   func(f, to tool.Spot) { note("release %s→%s", at(f), at(to)) },
		OnCancel:    func() { note("cancel") },
		OnClick:     func(s tool.Spot, double bool) { note("click %s %v", at(s), double) },
		OnSecondary: func(s tool.Spot, _ fyne.Position) { note("secondary %s", at(s)) },
		OnMove:      func(w, to tool.Spot, done bool) { note("move %s→%s %v", at(w), at(to), done) },
	})
	r.OneToOne()
	r.PanBy(-r.View().Offset().X, -r.View().Offset().Y)
	if got := r.View().Offset(); got != (view.ScreenPt{}) {
		t.Fatalf("offset %v", got)
	}
	r.SetScene(overlay.Scene{Marks: []overlay.Mark{{ID: "m", At: view.PicPt{X: 100.5, Y: 100.5}, Name: "Hut"}}})
	log = nil
	return r, func() string {
		s := strings.Join(log, "; ")
		log = nil
		return s
	}
}

func (r *rig) press(x, y float64, b desktop.MouseButton) { r.MouseDown(r.mouse(x, y, b)) }
func (r *rig) let(x, y float64, b desktop.MouseButton)   { r.MouseUp(r.mouse(x, y, b)) }

func (r *rig) mouse(x, y float64, b desktop.MouseButton) *desktop.MouseEvent {
	abs := r.absolute(view.ScreenPt{X: x, Y: y})
	return &desktop.MouseEvent{Button: b, PointEvent: fyne.PointEvent{AbsolutePosition: abs, Position: abs.Subtract(r.frame.origin)}}
}

func (r *rig) drag(x, y float64) {
	r.Dragged(&fyne.DragEvent{PointEvent: r.mouse(x, y, 0).PointEvent})
}

func (r *rig) key(n fyne.KeyName) { r.TypedKey(&fyne.KeyEvent{Name: n}) }

const left, middle, right = desktop.MouseButtonPrimary, desktop.MouseButtonTertiary, desktop.MouseButtonSecondary

func TestEvents(t *testing.T) {
	r, log := logged(t)
	for _, c := range []struct {
		name string
		do   func()
		want string
	}{
		{"drag a bearing from a mark", func() {
			r.press(104, 99, left)
			r.drag(200, 150)
			r.let(210, 150, left)
			r.DragEnd()
		}, "live 100,100m→200,150; live 100,100m→210,150; release 100,100m→210,150"},
		{"a release over another widget comes as the end of the drag", func() {
			r.press(300, 300, left)
			r.drag(350, 300)
			r.DragEnd()
		}, "live 300,300→350,300; live 300,300→350,300; release 300,300→350,300"},
		{"drags go on outside", func() {
			r.press(300, 300, left)
			r.drag(-40, 300)
			r.let(-40, 300, left)
		}, "live 300,300→-40,300; live 300,300→-40,300; release 300,300→-40,300"},
		{"escape", func() {
			r.press(300, 300, left)
			r.drag(350, 300)
			r.key(fyne.KeyEscape)
			r.drag(360, 300)
			r.let(360, 300, left)
		}, "live 300,300→350,300; cancel"},
		{"click on a mark", func() { r.press(101, 101, left); r.let(101, 101, left) }, "click 100,100m false"},
		{"right click", func() { r.press(400, 200, right); r.let(400, 200, right) }, "secondary 400,200"},
		{"middle drag pans", func() { r.press(300, 300, middle); r.drag(290, 280); r.let(290, 280, middle) }, ""},
		{"keyboard alone makes a bearing", func() {
			r.key(fyne.KeyLeft)
			r.key(fyne.KeyReturn)
			for range 5 {
				r.key(fyne.KeyRight)
			}
			r.key(fyne.KeyReturn)
		}, "live 289,280→292,280; live 289,280→293,280; live 289,280→294,280; live 289,280→294,280; release 289,280→294,280"},
		{"Space alone serves as Enter", func() {
			r.KeyDown(&fyne.KeyEvent{Name: fyne.KeySpace})
			r.KeyUp(&fyne.KeyEvent{Name: fyne.KeySpace})
			r.key(fyne.KeyEscape)
		}, ""},
		{"Space with a drag pans and is no Enter", func() {
			r.KeyDown(&fyne.KeyEvent{Name: fyne.KeySpace})
			r.press(300, 300, left)
			r.drag(310, 320)
			r.let(310, 320, left)
			r.KeyUp(&fyne.KeyEvent{Name: fyne.KeySpace})
		}, ""},
	} {
		c.do()
		if got := log(); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
		if c.name == "middle drag pans" {
			if got := r.View().Offset(); got != (view.ScreenPt{X: -10, Y: -20}) {
				t.Errorf("middle drag: offset %v, want -10,-20", got)
			}
			r.PanBy(10, 20)
		}
	}
	if got := r.View().Offset(); got != (view.ScreenPt{X: 10, Y: 20}) {
		t.Errorf("space drag: offset %v, want 10,20", got)
	}
}

func TestWheelZoomsAtThePointer(t *testing.T) {
	r, _ := logged(t)
	e := &fyne.ScrollEvent{PointEvent: r.mouse(250, 130, 0).PointEvent, Scrolled: fyne.NewDelta(0, notch)}
	at := view.ScreenPt{X: 250.5, Y: 130.5}
	p := r.View().ToPicture(at)
	for range 12 {
		r.Scrolled(e)
	}
	if got := r.View().ToScreen(p); got.Dist(at) > 0.71 {
		t.Errorf("after 12 notches the point under the pointer stands at %v, want %v", got, at)
	}
	if got := r.View().Scale(); got < 13 || got > 16 {
		t.Errorf("scale %v, want about 1.25¹² = 14.6", got)
	}
	e.Scrolled.DY = 125 * 25 * 40
	before := r.View().Scale()
	r.Scrolled(e)
	if got := r.View().Scale() / before; got > 2 {
		t.Errorf("a wild wheel zoomed by %v, want 1.25³ at most", got)
	}
}

func TestEmptyMapAreaIsHarmless(t *testing.T) {
	r := newRig(t, nil, 1, 300, 200, 5, 5, Callbacks{})
	r.press(20, 20, left)
	r.drag(60, 60)
	r.let(60, 60, left)
	r.key(fyne.KeyReturn)
	r.key(fyne.KeyLeft)
	r.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25)})
	r.Fit()
	r.ZoomBy(2)
	r.RotateTo(1)
	r.SetScene(overlay.Scene{Marks: []overlay.Mark{{ID: "m"}}})
	r.SetLive("x", "y", view.PicPt{}, view.PicPt{X: 9})
	r.SetPicture(nil)
	r.win.Canvas().Capture()
	if !r.View().IsZero() {
		t.Error("an empty map area has a view")
	}
}

func TestAnotherPictureReplacesTheFirst(t *testing.T) {
	r := newRig(t, addressed(1300, 1100), 1, 300, 200, 5, 5, Callbacks{})
	first := r.pic
	r.SetPicture(nil)
	first.Close()
	if r.tileLayer != nil || len(r.layer.Objects) != 0 {
		t.Error("something of the first picture is still shown")
	}
}

func TestFittedStaysFitted(t *testing.T) {
	r := newRig(t, addressed(1300, 1100), 1, 300, 200, 5, 5, Callbacks{})
	r.Fit()
	r.win.Resize(fyne.NewSize(600, 400))
	if got := r.View(); got != got.Fit() {
		t.Error("a fitted sheet is not fitted after a resize")
	}
	r.ZoomBy(2)
	r.win.Resize(fyne.NewSize(500, 450))
	if got := r.View(); got == got.Fit() {
		t.Error("a zoomed sheet was fitted by a resize")
	}
}

// The figures of the line being dragged move off a text that stands on the sheet as soon
// as the picture with that text is there, wherever the sheet has been panned since.
func TestFiguresKeepOffTexts(t *testing.T) {
	for name, written := range map[string]func(at ...image.Rectangle) overlay.Written{
		"of norths":  func(at ...image.Rectangle) overlay.Written { return overlay.Written{Norths: at} },
		"of escapes": func(at ...image.Rectangle) overlay.Written { return overlay.Written{Named: at} },
	} {
		t.Run(name, func(t *testing.T) { figuresKeepOff(t, written) })
	}
}

func figuresKeepOff(t *testing.T, written func(at ...image.Rectangle) overlay.Written) {
	t.Helper()
	r := newRig(t, addressed(1300, 1100), 1, 800, 600, 5, 5, Callbacks{})
	r.Fit()
	r.SetScene(overlay.Scene{Marks: []overlay.Mark{{ID: "m"}}})
	r.settle()
	r.SetLive("grid ± 4°  055° mag", "057°", view.PicPt{X: 300, Y: 500}, view.PicPt{X: 1000, Y: 520})
	box := func() image.Rectangle {
		at, size := r.live.figures.Position(), r.live.figures.Size()
		x, y := int(at.X), int(at.Y)
		return image.Rect(x, y, x+int(size.Width), y+int(size.Height)).Inset(8) // of the halo and the line's slope
	}
	first := box()
	o := r.order()
	text := first.Add(image.Pt(o.margin, o.margin)) // as the picture with its margin has it
	r.overlayCame(o, image.NewRGBA(image.Rectangle{Max: o.size()}), written(text))
	if second := box(); second == first || second.Overlaps(first) {
		t.Errorf("the figures stay at %v over the text at %v", second, first)
	}
	r.SetView(r.View().PanBy(0, 40))
	r.SetLive("grid ± 4°  055° mag", "057°", view.PicPt{X: 300, Y: 500}, view.PicPt{X: 1000, Y: 520})
	if moved := box(); moved.Overlaps(first.Add(image.Pt(0, 40))) {
		t.Errorf("after a pan the figures stand at %v over the text at %v", moved, first.Add(image.Pt(0, 40)))
	}
}

// A released line stays until the scene that was set last has been drawn, and no longer:
// neither where nothing is drawn any more nor where another line is dragged meanwhile.
func TestAReleasedLineStaysUntilTheSceneIsDrawn(t *testing.T) {
	r := newRig(t, addressed(1300, 1100), 1, 800, 600, 5, 5, Callbacks{})
	r.Fit()
	one, two := overlay.Scene{Marks: []overlay.Mark{{ID: "m"}}}, overlay.Scene{Marks: []overlay.Mark{{ID: "m"}, {ID: "n"}}}
	r.SetScene(one)
	r.until("the first scene is drawn", func() bool { return r.overlayLayer.shown.scene == r.serial })
	drag := func() { r.SetLive("", "057°", view.PicPt{X: 300, Y: 500}, view.PicPt{X: 1000, Y: 520}) }
	drag()
	r.SetScene(two)
	r.ReleaseLive()
	if !r.live.shown {
		t.Fatal("the line goes before the scene with what was kept of it is drawn")
	}
	r.until("the line goes", func() bool { return !r.live.shown })
	if r.overlayLayer.shown.scene != r.serial {
		t.Error("the line goes before the scene with what was kept of it is drawn")
	}
	drag()
	r.ReleaseLive()
	r.until("the line goes, as the scene has been drawn", func() bool { return !r.live.shown })
	drag()
	r.SetScene(one)
	r.ReleaseLive()
	drag()
	r.until("the scene is drawn", func() bool { return r.overlayLayer.shown.scene == r.serial })
	if !r.live.shown {
		t.Error("another line that is dragged meanwhile goes")
	}
	r.SetScene(two)
	r.ReleaseLive()
	r.SetScene(overlay.Scene{})
	r.until("the line goes with the last that is drawn", func() bool { return !r.live.shown })
}
