package papers

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"legwright/app/ui/look"
	"legwright/app/ui/widgets"
	"legwright/mapio/paper"
)

// pageView shows one page, whole or as wide as there is room.
type pageView struct {
	canvas  fyne.Canvas // of the window
	body    *fyne.Container
	scroll  *container.Scroll
	img     *canvas.Image
	frame   *canvas.Rectangle
	wide    bool
	resized func()
}

// edge is the space around the page in DIP, and the frame within it.
const edge = 6

func newPageView(c fyne.Canvas, resized func()) *pageView {
	v := &pageView{canvas: c, img: &canvas.Image{FillMode: canvas.ImageFillStretch}, frame: canvas.NewRectangle(color.Transparent), resized: resized}
	v.frame.StrokeWidth = 1
	v.scroll = container.NewScroll(container.NewCenter(container.NewStack(v.frame, container.New(&widgets.Pad{Left: 1, Top: 1, Right: 1, Bottom: 1}, v.img))))
	v.body = container.New(&watched{v}, v.scroll)
	v.img.Hide()
	v.frame.Hide()
	return v
}

// watched tells the view when it has another size.
type watched struct{ v *pageView }

// MinSize is little: the page takes what there is.
func (w *watched) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(160, 120) }

// Layout gives the page all the room.
func (w *watched) Layout(o []fyne.CanvasObject, size fyne.Size) {
	before := o[0].Size()
	widgets.Put(o[0], 0, 0, size.Width, size.Height)
	if size != before {
		w.v.resized()
	}
}

// fit is the size of a page on the screen in DIP.
func (v *pageView) fit(s paper.Size) fyne.Size {
	room := v.scroll.Size()
	if room.Width <= 2*edge || room.Height <= 2*edge {
		return fyne.Size{}
	}
	k := (room.Width - 2*edge) / float32(s.Width)
	if high := (room.Height - 2*edge) / float32(s.Height); !v.wide {
		k = min(k, high)
	}
	return fyne.NewSize(k*float32(s.Width), k*float32(s.Height))
}

// pixels is that size in pixels of the screen, none before the view was laid out.
func (v *pageView) pixels(s paper.Size) image.Point {
	const most = 6000 // of a side
	at := func(x float32) int { return int(math.Round(float64(min(x*v.canvas.Scale(), most)))) }
	size := v.fit(s)
	return image.Pt(at(size.Width), at(size.Height))
}

// show shows a page, or none.
func (v *pageView) show(d *drawn) {
	show(v.img, d != nil)
	show(v.frame, d != nil)
	if d == nil {
		return
	}
	v.img.Image = d.img
	v.img.SetMinSize(v.fit(d.of.of.order.Size))
	v.frame.StrokeColor = theme.Color(look.ColorEdge)
	v.img.Refresh()
	v.frame.Refresh()
	v.scroll.Refresh()
}

// roll scrolls the page by a share of what is in view, and reports whether there was more.
func (v *pageView) roll(share float32) bool {
	most := max(v.scroll.Content.MinSize().Height-v.scroll.Size().Height, 0)
	to := min(max(v.scroll.Offset.Y+share*v.scroll.Size().Height, 0), most)
	if math.Abs(float64(to-v.scroll.Offset.Y)) < 1 {
		return false
	}
	v.scroll.ScrollToOffset(fyne.NewPos(v.scroll.Offset.X, to))
	return true
}
