package ui

import (
	"fyne.io/fyne/v2"

	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
)

// Sizes of the bench in units of the window.
const (
	panelWidth    = widgets.PanelWidth
	lowWindow     = float32(760)
	wholeWidth    = float32(200)
	wholeHeight   = float32(160)
	welcomeWidth  = float32(600)
	startWidth    = float32(460)
	reliefWidth   = float32(380)
	stripDistance = float32(18)   // from the lower edge of the sheet
	besideShare   = float32(0.48) // of the sheet's width, for what stands beside it
)

// benchLayout puts the sheet in the middle, the panel at its right over the
// whole height, a square of the panel's own between them while it shows one, the ledger
// below the sheet and the foot line at the bottom, with
// the caution about crash protection above it. The strip floats over the sheet's
// lower edge; the welcome lies over the ledger; the progress of an
// opening is over its upper left, where what is
// shown of terrain is explained too, the panel of the picture's look over its upper
// right, the whole sheet in small over its lower right.
type benchLayout struct {
	sheet, beside, panel, ledger, foot, welcome, opening, look, whole, relief, unsafe, start fyne.CanvasObject

	strip        *overSheet
	ledgerHeight func(window float32) float32
	splits       bool // something stood beside the sheet when it was laid out last
}

// overSheet is the strip over the sheet with what it needs to keep off what it must not
// cover.
type overSheet struct {
	strip   fyne.CanvasObject
	covers  func(fyne.Position, fyne.Size) bool
	fit     func(room float32)
	keepOff func(at fyne.Position, size fyne.Size) // of the sheet
}

// arrange gives the parts of the window their places again, and draws those again that are
// named: root.Refresh would draw every panel.
func (f *frame) arrange(drawn ...fyne.CanvasObject) {
	if f.root == nil { // while the window is being built
		return
	}
	widgets.Arrange(f.root)
	for _, o := range drawn {
		o.Refresh()
	}
}

// MinSize is small, so that the window can shrink to the screens it is meant
// for.
func (l *benchLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(800, 480) }

// Layout places the parts.
func (l *benchLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	low := l.ledgerHeight(size.Height)
	body := size.Height - foot.Height
	widgets.Put(l.foot, 0, body, size.Width, foot.Height)
	if l.unsafe.Visible() {
		h := l.unsafe.MinSize().Height
		body -= h
		widgets.Put(l.unsafe, 0, body, size.Width, h)
	}
	left := size.Width - panelWidth
	widgets.Put(l.ledger, 0, body-low, left, low)
	widgets.Put(l.panel, left, 0, panelWidth, body)
	left = l.placeBeside(left, body-low)
	widgets.Put(l.sheet, 0, 0, left, body-low)
	o := l.opening.MinSize()
	widgets.Put(l.opening, 12, 12, min(o.Width, left-24), o.Height)
	reliefWide := min(reliefWidth, left-24)
	l.relief.Resize(fyne.NewSize(reliefWide, l.relief.Size().Height)) // its height follows from its width
	widgets.Put(l.relief, 12, 12, reliefWide, l.relief.MinSize().Height)
	k := l.look.MinSize()
	widgets.Put(l.look, max(left-k.Width-12, 0), 12, min(k.Width, left), k.Height)
	widgets.Put(l.whole, max(left-wholeWidth-12, 0), max(body-low-wholeHeight-12, 0), min(wholeWidth, left), min(wholeHeight, body-low))
	width := min(welcomeWidth, size.Width-panelWidth-16)
	l.welcome.Resize(fyne.NewSize(width, l.welcome.Size().Height)) // its height follows from its width
	h := l.welcome.MinSize().Height
	widgets.Put(l.welcome, 8, body-h-8, width, h)
	l.placeStart(left, body-low)
	l.strip.place(left, body-low)
}

// placeBeside puts what stands beside the sheet at its right, as wide as it is high where
// the sheet can spare that, and returns where it begins.
func (l *benchLayout) placeBeside(right, high float32) float32 {
	if l.splits = l.beside.Visible(); !l.splits {
		return right
	}
	left := right - min(high, besideShare*right)
	widgets.Put(l.beside, left, 0, right-left, high)
	return left
}

// placeStart puts the card that offers ways to begin into the middle of the sheet.
func (l *benchLayout) placeStart(left, bottom float32) {
	w := min(startWidth, left-32)
	l.start.Resize(fyne.NewSize(w, l.start.Size().Height)) // its height follows from its width
	h := min(l.start.MinSize().Height, bottom)
	widgets.Put(l.start, (left-w)/2, (bottom-h)/2, w, h)
}

// place puts the strip over the lower edge of the sheet. Where it would cover the end of
// the line that was dragged, it goes to the upper edge.
func (o *overSheet) place(left, bottom float32) {
	o.fit(left - 2*stripDistance)
	s := o.strip.MinSize()
	x, y := max((left-s.Width)/2, 0), bottom-s.Height-stripDistance
	if o.covers(fyne.NewPos(x, y), s) {
		y = stripDistance
	}
	widgets.Put(o.strip, x, y, min(s.Width, left), s.Height)
	if o.strip.Visible() {
		o.keepOff(o.strip.Position(), o.strip.Size())
	} else {
		o.keepOff(fyne.Position{}, fyne.Size{})
	}
}
