// Package foot is the line at the bottom of the window: scale bar, position
// under the pointer, quality of the calibration, and the message of the last
// act. Rooms of the window speak to the person through it. It knows no plan and
// no session: what it shows is set as text.
package foot

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// Height is how high the line is, in DIP.
const Height = float32(28)

// Pointer is the position under the pointer. Empty texts take no space.
type Pointer struct {
	Ref, LatLon string
	Stopped     bool // a caution of the grade stop holds: nobody may walk on Ref
}

// Quality says how good the calibration of the sheet is.
type Quality struct {
	Text      string // such as "4 points, typical residual 3.1 m"
	Check     string // such as "checked to ± 5 m"
	Unchecked bool   // nothing independent has confirmed the calibration
	Stopped   bool   // a caution of the grade stop holds for the whole sheet
}

// Line is the widget. Its methods belong to Fyne's main thread.
type Line struct {
	widget.BaseWidget
	now     state
	hint    string
	changed func()
	waits   bool // in Together
}

// state is everything the line shows.
type state struct {
	pointer     Pointer
	quality     Quality
	metresPerPx float64
	message     string
	failed      bool
	concealed   bool
}

// New returns an empty line.
func New() *Line {
	l := &Line{changed: func() {}}
	l.ExtendBaseWidget(l)
	return l
}

// OnChange sets what is called after the line shows something else.
func (l *Line) OnChange(f func()) { l.changed = f }

// Say shows a sentence: what the last act did, or what to do next. It replaces
// what failed before.
func (l *Line) Say(text string) { l.tell(text, false) }

// Fail shows why an act was refused; it stays until the next act says something,
// and no hint covers it. A nil error changes nothing.
func (l *Line) Fail(err error) {
	if err != nil {
		l.tell(Sentence(err), true)
	}
}

// Try shows the error of an act, or done where there is none, and reports
// whether the act succeeded. With an empty done the message of the act before
// stays, unless that failed.
func (l *Line) Try(err error, done string) bool {
	switch {
	case err != nil:
		l.Fail(err)
	case done != "" || l.now.failed:
		l.Say(done)
	}
	return err == nil
}

// Hint shows what the control under the pointer is for, in place of the message
// until Hint(""). It does not cover why an act was refused.
func (l *Line) Hint(text string) {
	if l.hint != text {
		l.hint = text
		l.Refresh()
	}
}

// Message returns the message and whether it says why an act was refused. A
// hint is no message.
func (l *Line) Message() string { return l.now.message }

// Failed reports whether the message says why an act was refused.
func (l *Line) Failed() bool { return l.now.failed }

func (l *Line) tell(text string, failed bool) {
	if text != "" {
		l.Hint("") // the control it was done with may be gone, and would leave its hint behind
	}
	next := l.now
	next.message, next.failed = text, failed
	l.show(next)
}

// SetPointer shows the position under the pointer; the zero Pointer shows none.
func (l *Line) SetPointer(p Pointer) {
	next := l.now
	next.pointer = p
	l.show(next)
}

// Pointer returns the position shown.
func (l *Line) Pointer() Pointer { return l.now.pointer }

// Conceal hides the position under the pointer, from which a bearing or a length could
// be worked out, and clears the message, which may name one.
func (l *Line) Conceal(on bool) {
	next := l.now
	if next.concealed = on; on && !l.now.concealed {
		next.message, next.failed = "", false
		l.hint = ""
	}
	l.show(next)
}

// seenPointer is what is shown of the position under the pointer.
func (l *Line) seenPointer() Pointer {
	if l.now.concealed {
		return Pointer{Ref: "position hidden"}
	}
	return l.now.pointer
}

// SetQuality shows how good the calibration is.
func (l *Line) SetQuality(q Quality) {
	next := l.now
	next.quality = q
	l.show(next)
}

// Quality returns the quality shown.
func (l *Line) Quality() Quality { return l.now.quality }

// SetScale sets the scale bar's metres on the ground per physical pixel of the
// screen; 0 or less shows no bar.
func (l *Line) SetScale(metresPerPx float64) {
	next := l.now
	next.metresPerPx = metresPerPx
	l.show(next)
}

// Scale returns the metres per physical pixel, 0 where they are not known.
func (l *Line) Scale() float64 { return l.now.metresPerPx }

// Together makes one change of all that f sets. It may stand within another.
func (l *Line) Together(f func()) {
	if l.waits {
		f()
		return
	}
	before := l.now
	l.waits = true
	f()
	l.waits = false
	if after := l.now; after != before {
		l.now = before
		l.show(after)
	}
}

func (l *Line) show(next state) {
	if l.now == next {
		return
	}
	if l.now = next; !l.waits {
		l.Refresh()
		l.changed()
	}
}

// text is what the message's place shows.
func (l *Line) text() string {
	if l.hint != "" && !l.now.failed {
		return l.hint
	}
	return l.now.message
}

// CreateRenderer makes the line; Fyne calls it.
func (l *Line) CreateRenderer() fyne.WidgetRenderer {
	r := &renderer{l: l}
	r.raster = canvas.NewRaster(r.paint)
	r.Refresh()
	return r
}
