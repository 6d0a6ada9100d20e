package ledger

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/look"
)

// Heights of the ledger in units of the window.
const (
	foldedHeight = float32(40)
	usualHeight  = float32(206)
	lowHeight    = float32(164) // in a low window
	lowWindow    = float32(760)
	leastHeight  = foldedHeight + headHeight + rowHeight
	mostOfWindow = float32(0.65) // the share of the window that the ledger may take
	heightByKey  = rowHeight / 2
)

// sizes is how high the ledger is.
type sizes struct {
	asked       Asked
	calibrating bool // a sheet is being calibrated; legs are not the job then
}

// Asked is what the person asked of the ledger's height and columns.
type Asked struct {
	Fold   Fold
	High   float32  // 0 for the usual height
	Hidden []string // heads of columns
}

// Fold is what the person asked of the table.
type Fold int

const (
	NothingAsked Fold = iota // an empty ledger folds while a sheet is calibrated
	AskedFolded
	AskedOpen
)

// Asked returns what the person asked for, to be kept until the next start.
func (l *Ledger) Asked() Asked { return l.sizes.asked }

// Ask makes the ledger as it was asked for before. What nobody can have asked for is
// passed over.
func (l *Ledger) Ask(a Asked) {
	const most = 10_000
	if a.Fold != AskedFolded && a.Fold != AskedOpen {
		a.Fold = NothingAsked
	}
	if !(a.High >= leastHeight && a.High <= most) { // NaN too
		a.High = 0
	}
	l.sizes.asked = a
	l.fill()
	l.showFold()
	l.host.Arrange()
}

// Folded reports whether only the heading is seen.
func (l *Ledger) Folded() bool {
	switch l.sizes.asked.Fold {
	case AskedFolded:
		return true
	case AskedOpen:
		return false
	}
	return l.sizes.calibrating && len(l.s.Plan().Legs) == 0
}

// ToggleFold folds the ledger, or unfolds it.
func (l *Ledger) ToggleFold() {
	if l.Folded() {
		l.sizes.asked.Fold = AskedOpen
	} else {
		l.sizes.asked.Fold = AskedFolded
	}
	l.showFold()
}

// Calibrating says whether a sheet is being calibrated: an empty ledger is folded
// meanwhile, unless the person asked otherwise.
func (l *Ledger) Calibrating(on bool) {
	l.sizes.calibrating = on
	l.showFold()
}

// showFold shows or hides the table, if that changed.
func (l *Ledger) showFold() {
	folded := l.Folded()
	if folded {
		l.fold.SetHint("Unfold the ledger  (Ctrl+Shift+L)")
	} else {
		l.fold.SetHint("Fold the ledger  (Ctrl+Shift+L)")
	}
	if folded != l.grid.Visible() {
		return
	}
	icon := look.IconFold
	if folded {
		icon = look.IconUnfold
	}
	l.fold.SetIcon(icon)
	setVisible(l.grid, !folded)
	l.host.Arrange()
}

// Height is how high the ledger is in a window of that height.
func (l *Ledger) Height(window float32) float32 {
	high := l.sizes.asked.High
	switch {
	case l.Folded():
		return foldedHeight
	case high == 0 && window < lowWindow:
		high = lowHeight
	case high == 0:
		high = usualHeight
	}
	return min(max(high, leastHeight), max(window*mostOfWindow, leastHeight))
}

// resize makes the ledger taller or shorter, from the height that it has.
func (l *Ledger) resize(by float32) {
	if l.Folded() {
		return
	}
	l.sizes.asked.High = max(l.Size().Height+by, leastHeight)
	l.host.Arrange()
}

// Step makes the ledger taller by half a row, or shorter with −1.
func (l *Ledger) Step(way float32) {
	if l.Folded() {
		l.line.Say("Unfold the ledger first  (Ctrl+Shift+L).")
		return
	}
	l.resize(way * heightByKey)
}

// splitter is the upper edge of the ledger, which is dragged to make it higher. With
// the focus Up and Down move it.
type splitter struct {
	widget.BaseWidget
	resize  func(by float32)
	leave   func()
	hint    func(string)
	line    *canvas.Rectangle
	focused bool
	hover   bool
}

const splitterHeight = float32(5)

func newSplitter(resize func(float32), leave func(), hint func(string)) *splitter {
	s := &splitter{resize: resize, leave: leave, hint: hint, line: canvas.NewRectangle(color.Transparent)}
	s.ExtendBaseWidget(s)
	return s
}

// Dragged moves the edge with the pointer.
func (s *splitter) Dragged(e *fyne.DragEvent) { s.resize(-e.Dragged.DY) }

// DragEnd is Fyne's.
func (s *splitter) DragEnd() {}

// Cursor says that the edge can be dragged; Fyne asks for it.
func (s *splitter) Cursor() desktop.Cursor { return desktop.VResizeCursor }

// MouseIn shows the edge; Fyne calls it.
func (s *splitter) MouseIn(*desktop.MouseEvent) { s.mark(true, s.focused) }

// MouseMoved is Fyne's.
func (s *splitter) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends what MouseIn began.
func (s *splitter) MouseOut() { s.mark(false, s.focused) }

// FocusGained shows the edge; Fyne calls it.
func (s *splitter) FocusGained() { s.mark(s.hover, true) }

// FocusLost ends what FocusGained began.
func (s *splitter) FocusLost() { s.mark(s.hover, false) }

func (s *splitter) mark(hover, focused bool) {
	s.hover, s.focused = hover, focused
	text := ""
	s.line.FillColor = color.Transparent
	if hover || focused {
		text, s.line.FillColor = "Drag to make the ledger taller or shorter  (Up, Down)", look.Current()[look.Accent]
	}
	s.hint(text)
	s.line.Refresh()
}

// TypedRune is Fyne's.
func (s *splitter) TypedRune(rune) {}

// TypedKey moves the edge, or goes to the sheet.
func (s *splitter) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyUp:
		s.resize(heightByKey)
	case fyne.KeyDown:
		s.resize(-heightByKey)
	case fyne.KeyEscape:
		s.leave()
	}
}

// CreateRenderer is Fyne's.
func (s *splitter) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(s.line)
}

// MinSize is high enough to be hit.
func (s *splitter) MinSize() fyne.Size { return fyne.NewSize(40, splitterHeight) }

// setVisible shows something or hides it.
func setVisible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}
