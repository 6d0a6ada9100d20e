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
	stripDistance = float32(18) // from the lower edge of the sheet
)

// benchLayout puts the sheet in the middle, the panel at its right over the
// whole height, the ledger below the sheet and the foot line at the bottom, with
// the caution about crash protection above it. The strip floats over the sheet's
// lower edge or over the welcome, which has its lower left; the progress of an
// opening is over its upper left, the panel of the picture's look over its upper
// right, the whole sheet in small over its lower right.
type benchLayout struct {
	sheet, panel, ledger, foot, strip, welcome, opening, look, whole, unsafe, start fyne.CanvasObject

	ledgerHeight func(window float32) float32
	stripCovers  func(fyne.Position, fyne.Size) bool
	fitStrip     func(room float32)
	keepOff      func(at fyne.Position, size fyne.Size) // of the sheet
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
	widgets.Put(l.sheet, 0, 0, left, body-low)
	widgets.Put(l.ledger, 0, body-low, left, low)
	widgets.Put(l.panel, left, 0, panelWidth, body)
	o := l.opening.MinSize()
	widgets.Put(l.opening, 12, 12, min(o.Width, left-24), o.Height)
	k := l.look.MinSize()
	widgets.Put(l.look, max(left-k.Width-12, 0), 12, min(k.Width, left), k.Height)
	widgets.Put(l.whole, max(left-wholeWidth-12, 0), max(body-low-wholeHeight-12, 0), min(wholeWidth, left), min(wholeHeight, body-low))
	width := min(welcomeWidth, left-32)
	l.welcome.Resize(fyne.NewSize(width, l.welcome.Size().Height)) // its height follows from its width
	h := l.welcome.MinSize().Height
	widgets.Put(l.welcome, 16, body-low-h-16, width, h)
	l.placeStart(left, body-low)
	l.placeStrip(left, body-low)
}

// placeStart puts the card that offers ways to begin into the middle of the sheet.
func (l *benchLayout) placeStart(left, bottom float32) {
	w := min(startWidth, left-32)
	l.start.Resize(fyne.NewSize(w, l.start.Size().Height)) // its height follows from its width
	h := min(l.start.MinSize().Height, bottom)
	widgets.Put(l.start, (left-w)/2, (bottom-h)/2, w, h)
}

// placeStrip puts the strip over the lower edge of the sheet, or where the welcome
// would cover it over that. Where it would cover the end of the line that was dragged,
// it goes to the upper edge.
func (l *benchLayout) placeStrip(left, bottom float32) {
	l.fitStrip(left - 2*stripDistance)
	s := l.strip.MinSize()
	x, y := max((left-s.Width)/2, 0), bottom-s.Height-stripDistance
	if w := l.welcome; w.Visible() && x < w.Position().X+w.Size().Width+8 {
		y = max(w.Position().Y-s.Height-8, 0)
	}
	free := !l.welcome.Visible() || stripDistance+s.Height < l.welcome.Position().Y
	if free && l.stripCovers(fyne.NewPos(x, y), s) {
		y = stripDistance
	}
	widgets.Put(l.strip, x, y, min(s.Width, left), s.Height)
	if l.strip.Visible() {
		l.keepOff(l.strip.Position(), l.strip.Size())
	} else {
		l.keepOff(fyne.Position{}, fyne.Size{})
	}
}
