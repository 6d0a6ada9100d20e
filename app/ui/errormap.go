package ui

import (
	"context"
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// errorMap shows over the sheet how far a place may be off by its calibration.
// It is worked out away from the window, once for each calibration.
type errorMap struct {
	b     *Bench
	body  *fyne.Container
	tool  *widgets.Tool
	words *widgets.Sentence

	on     bool
	drawn  overlay.Local
	sheet  plan.Sheet         // what drawn, or the work under way, is of
	have   bool               // drawn is there
	cancel context.CancelFunc // of the work under way, or nil
	asked  bool               // its words are to be brought into sight
}

func newErrorMap(b *Bench) *errorMap {
	e := &errorMap{b: b, words: widgets.NewSentence("", widgets.Note)}
	e.tool = widgets.NewTextTool("", "Error over the sheet", "Hatch the sheet by how far a place may be off  (Ctrl+B)", b.toggleError)
	e.tool.OnHint = b.hintTo
	e.body = container.NewVBox(container.NewHBox(e.tool), e.words)
	return e
}

// toggleError shows the error over the sheet, or takes it away.
func (b *Bench) toggleError() {
	e := b.sheetP.knows.error
	e.on = !e.on
	e.asked = e.on
	if b.post != postSheet {
		b.goTo(postSheet)
	}
	if _, err := b.s.Calibration(); err != nil && e.on {
		b.say("The sheet is not calibrated yet: its error will show as soon as it is.")
	}
	b.sheetP.refresh()
	b.refreshAll()
	e.reveal()
}

// reveal brings the words into sight after they were asked for, for they stand
// low in the panel.
func (e *errorMap) reveal() {
	if !e.asked || !e.have || e.b.post != postSheet {
		return
	}
	e.asked = false
	l := e.b.panel.layout
	l.inner.Content.Refresh() // the words may be of more lines now
	for _, s := range []*container.Scroll{&e.b.panel.tops[postSheet].(*widgets.NestedScroll).Scroll, l.inner} {
		widgets.Reveal(s, e.words)
	}
}

// follow sees to it that what is shown is of this calibration; nil is none.
func (e *errorMap) follow(sheet plan.Sheet, c *calib.Calibration) {
	visible(e.body, c != nil)
	e.tool.SetOn(e.on)
	if !e.on || c == nil {
		e.forget()
	} else if !sameFit(e.sheet, sheet) || !e.have && e.cancel == nil {
		e.work(sheet, c)
	}
	e.words.Set(e.text(), widgets.Note)
	visible(e.words, e.on)
}

func (e *errorMap) forget() {
	if e.cancel != nil {
		e.cancel()
	}
	e.cancel, e.have, e.drawn, e.sheet = nil, false, overlay.Local{}, plan.Sheet{}
}

// work works the error out away from the window. What is shown stays until it
// is there.
func (e *errorMap) work(sheet plan.Sheet, c *calib.Calibration) {
	if e.cancel != nil {
		e.cancel()
	}
	ctx, cancel := context.WithCancel(context.Background())
	e.sheet, e.cancel = sheet, cancel
	go func() {
		l, ok := overlay.LocalOf(ctx, c, sheet.Width, sheet.Height)
		e.b.later(func() {
			if !ok || ctx.Err() != nil {
				return
			}
			cancel()
			e.cancel, e.drawn, e.have = nil, l, true
			e.words.Set(e.text(), widgets.Note)
			e.b.refreshAll()
			e.reveal()
		})
	}()
}

// sameFit reports whether two sheets are calibrated by the same things.
func sameFit(a, b plan.Sheet) bool {
	return a.ID == b.ID && a.Code == b.Code && a.Medium == b.Medium && a.Focal == b.Focal && a.Width == b.Width && a.Height == b.Height && a.DPI == b.DPI && a.WorldM == b.WorldM &&
		slices.Equal(a.Points, b.Points) && (a.World == nil) == (b.World == nil) && (a.World == nil || *a.World == *b.World)
}

// shown is what is drawn of it at the Sheet post.
func (e *errorMap) shown() overlay.Local {
	if !e.on || !e.have {
		return overlay.Local{}
	}
	return e.drawn
}

// text says what the hatching means.
func (e *errorMap) text() string {
	least, most := units.ErrorM(e.drawn.LeastM), units.ErrorM(e.drawn.MostM)
	text := ""
	switch {
	case !e.have:
		return "Working it out…"
	case byMatrix(e.sheet):
		return e.ofFile(most)
	case len(e.drawn.Levels) == 0:
		text = "If the references are right, a position is good to ± " + most + " (95 %) everywhere"
	default:
		text = fmt.Sprintf("If the references are right, a position is good to ± %s at best and ± %s at worst (95 %%): the denser the hatching, the worse", least, most)
	}
	if e.drawn.Untrusted() {
		text += ". Do not use it beyond the line that says so"
	}
	return text + ". A reference that is a whole square out does not show here."
}

// ofFile says what is known of a place that a file gives: nothing was measured.
func (e *errorMap) ofFile(figure string) string {
	if e.sheet.WorldM > 0 {
		return "As far as the file says, a position is good to ± " + figure + " (95 %) everywhere. If the file is wrong, that does not show."
	}
	return "The file does not say how exact it is: ± " + figure + " (95 %) is taken everywhere. Where it is wrong, that does not show."
}
