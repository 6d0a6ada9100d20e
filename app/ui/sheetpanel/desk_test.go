package sheetpanel_test

import (
	"context"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/dial"
	"legwright/app/ui/foot"
	"legwright/app/ui/sheetpanel"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/canvas/pyramid"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// desk is a window with a map, its foot line and the Sheet panel in front, on a
// session with one picture.
type desk struct {
	*uitest.Window
	uitest.Queue
	s     *session.Session
	line  *foot.Line
	asks  *ask.Dialogs
	view  *sheetview.View
	panel *sheetpanel.Panel
	album *album
	acts  []string // what the panel asked of the window
}

// album holds the pictures of sheets by their path.
type album struct {
	shown *pyramid.Pyramid
	all   map[string]*image.RGBA
}

func (a *album) Pyramid() *pyramid.Pyramid { return a.shown }
func (a *album) Preview() bool             { return false }
func (a *album) Withheld(string) bool      { return false }
func (a *album) Look() pyramid.Look        { return pyramid.Look{} }

func (a *album) Around(_ context.Context, sheet plan.Sheet, at calib.PicturePt) (image.Image, view.PicPt, error) {
	whole := a.all[sheet.Picture]
	if whole == nil {
		return nil, view.PicPt{}, errors.New("the picture is not there")
	}
	return whole, view.PicPt{X: at.Col, Y: at.Row}, nil
}

// desk meets the hosts of both rooms.
func (d *desk) ShowPanel()                 { d.acts = append(d.acts, "show panel") }
func (d *desk) AddSheet()                  { d.acts = append(d.acts, "add sheet") }
func (d *desk) ShowSheet(id plan.ID)       { d.acts = append(d.acts, "show "+string(id)) }
func (d *desk) RemoveSheet(id plan.ID)     { d.acts = append(d.acts, "remove "+string(id)) }
func (d *desk) Find(plan.ID)               {}
func (d *desk) NameMark()                  {}
func (d *desk) MayKeep(keep func())        { keep() }
func (d *desk) Typed(rune, *fyne.KeyEvent) {}

// blank is a white picture.
func blank(w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	return img
}

// newDesk shows a picture of 400 × 300 pixels that is not calibrated.
func newDesk(t *testing.T) *desk {
	t.Helper()
	d := &desk{Queue: uitest.NewQueue(), s: uitest.EmptySession(), line: foot.New(), album: &album{all: map[string]*image.RGBA{}}}
	w := uitest.NewWindow(t, container.NewWithoutLayout())
	d.Window = w
	d.asks = ask.New(w, d.line, d.Later)
	d.view = sheetview.New(d.s, d.line, dial.New(), d.Later, d)
	var scroll *container.Scroll
	d.panel = sheetpanel.New(sheetpanel.Needs{
		Session: d.s, Foot: d.line, Ask: d.asks, Map: d.view, Pictures: d.album, Host: d, Canvas: w.Canvas(), Later: d.Later,
		Reveal: func(o fyne.CanvasObject) { widgets.Reveal(scroll, o) },
		InSight: func(top, bottom float32) bool {
			return bottom > scroll.Offset.Y && top < scroll.Offset.Y+scroll.Size().Height
		},
	})
	scroll = container.NewVScroll(d.panel.Body())
	scroll.SetMinSize(fyne.NewSize(widgets.PanelWidth, 400))
	w.SetContent(container.NewBorder(nil, d.line, nil, scroll, d.view.Area()))
	w.Resize(fyne.NewSize(1280, 800))
	d.show(t, "ground.png", blank(400, 300), d.s.OpenSheet)
	d.panel.Show(true)
	d.view.SetTool(d.panel.Tool())
	d.Drain()
	return d
}

// show puts a picture on the map as a sheet of the plan.
func (d *desk) show(t *testing.T, name string, img *image.RGBA, as func(session.Picture) error) {
	t.Helper()
	if err := as(session.Picture{Path: "/maps/" + name, Width: img.Rect.Dx(), Height: img.Rect.Dy(), SHA256: sha(name)}); err != nil {
		t.Fatal(err)
	}
	d.album.all["/maps/"+name] = img
	d.album.shown = pyramid.New(img, pyramid.Options{})
	if err := d.album.shown.WaitWhole(); err != nil {
		t.Fatal(err)
	}
	d.view.ShowPicture(d.album.shown, false)
	d.panel.PictureChanged()
	d.view.Area().Fit()
}

// sha is a hash as a plan keeps it, another one for each name.
func sha(name string) string {
	const digits = "0123456789abcdef"
	out := make([]byte, 64)
	for i := range out {
		out[i] = digits[(int(name[i%len(name)])+i)%16]
	}
	return string(out)
}

// calibrated is a desk whose sheet has two points: a pixel is ten metres, and the
// picture's top-left corner lies at E 20 000 N 744 000 on EPSG:27700.
func calibrated(t *testing.T) *desk {
	t.Helper()
	d := newDesk(t)
	d.point(100, 200, "NL 21 42")
	d.point(300, 200, "NL 23 42")
	if n := len(d.sheet().Points); n != 2 {
		t.Fatalf("%d control points, want 2: %s", n, d.line.Message())
	}
	return d
}

func (d *desk) sheet() plan.Sheet {
	sheet, _ := d.s.Sheet()
	return sheet
}

// click clicks a position of the picture, exactly.
func (d *desk) click(col, row float64) {
	d.panel.Tool().Click(tool.Spot{At: view.PicPt{X: col, Y: row}}, false)
}

// clickPoint clicks a control point.
func (d *desk) clickPoint(i int) {
	at := d.sheet().Points[i].At
	d.panel.Tool().Click(tool.Spot{At: sheetview.ViewPt(at), Target: tool.Target{Part: tool.Control, Index: i}}, false)
}

// point clicks a position, types its reference and presses Return.
func (d *desk) point(col, row float64, ref string) {
	d.click(col, row)
	d.Type(ref)
	d.Key(fyne.KeyReturn)
	d.Drain()
}

// from says in the form where the reference comes from.
func (d *desk) from(t *testing.T, origin string) { d.choose(t, "choose, to check the sheet", origin) }

// choose chooses from the list with a placeholder.
func (d *desk) choose(t *testing.T, placeholder, option string) {
	t.Helper()
	for _, s := range d.lists() {
		if s.PlaceHolder == placeholder {
			s.SetSelected(option)
			return
		}
	}
	t.Fatalf("no list says %q; there is %q", placeholder, d.Texts())
}

// check clicks a feature, types its reference, says where that comes from and presses
// Return.
func (d *desk) check(t *testing.T, col, row float64, origin, ref string) {
	t.Helper()
	d.click(col, row)
	d.Type(ref)
	d.from(t, origin)
	d.Key(fyne.KeyReturn)
	d.Drain()
}

// scene is what is drawn over the map once the act is over.
func (d *desk) scene() overlay.Scene {
	d.Drain()
	return d.view.Scene()
}

// spots counts the spots of a kind that are drawn.
func (d *desk) spots(kind overlay.SpotKind) int {
	n := 0
	for _, s := range d.scene().Spots {
		if s.Kind == kind {
			n++
		}
	}
	return n
}

// onMap reports whether the map has the keys.
func (d *desk) onMap() bool { return d.Canvas().Focused() == fyne.Focusable(d.view.Area()) }

// offers reports whether a button with these words can be clicked.
func (d *desk) offers(words string) bool {
	_, ok := uitest.Find[fyne.Tappable](d.Window, words)
	return ok
}

// walk calls f with each visible object of a tree.
func walk(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	if o == nil || !o.Visible() {
		return
	}
	f(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, in := range o.Objects {
			walk(in, f)
		}
	case fyne.Widget:
		for _, in := range test.WidgetRenderer(o).Objects() {
			walk(in, f)
		}
	}
}

// tapChoice clicks choice i of how the picture was made.
func (d *desk) tapChoice(t *testing.T, i int) {
	t.Helper()
	c := d.choice(t)
	c.Tapped(&fyne.PointEvent{Position: fyne.NewPos(c.Size().Width*(float32(i)+0.5)/3, 5)})
}

// choice is the control for how the picture was made.
func (d *desk) choice(t *testing.T) (c *widgets.Chooser) {
	t.Helper()
	walk(d.panel.Body(), func(o fyne.CanvasObject) {
		if in, ok := o.(*widgets.Chooser); ok {
			c = in
		}
	})
	if c == nil {
		t.Fatal("there is no choice")
	}
	return c
}

// lists are the lists to choose from in the topmost dialog, or else in the window.
func (d *desk) lists() (all []*widgets.Select) {
	root := d.Content()
	if top := d.Canvas().Overlays().Top(); top != nil {
		root = top
	}
	walk(root, func(o fyne.CanvasObject) {
		if s, ok := o.(*widgets.Select); ok {
			all = append(all, s)
		}
	})
	return all
}
