package sheetpanel

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib"
	"legwright/app/plan"
	"legwright/app/ui/jobs"
	"legwright/app/ui/widgets"
	"legwright/app/units"
	"legwright/canvas/overlay"
)

// Accuracy shades the map by how far out a position may be by its calibration. It is
// worked out away from the window, once for each calibration.
type Accuracy struct {
	n       *Needs
	body    *fyne.Container
	tool    *widgets.Tool
	words   *widgets.Sentence
	changed func()

	on    bool // a person wants it
	front bool // the panel is in front
	drawn overlay.Local
	sheet plan.Sheet // what drawn, or the work under way, is of
	have  bool       // drawn is there
	asked bool       // its words are to be scrolled into sight
	work  *jobs.Slot
}

func newAccuracy(n *Needs, changed func()) *Accuracy {
	a := &Accuracy{n: n, words: widgets.NewSentence("", widgets.Note), changed: changed, work: jobs.NewSlot(n.Later)}
	a.tool = n.tool("", "Show accuracy", "Shade the map by how far out a position may be  (Ctrl+B)", a.Toggle)
	a.body = container.NewVBox(container.NewHBox(a.tool), a.words)
	return a
}

// On says whether the map is shaded.
func (a *Accuracy) On() bool { return a.on }

// Toggle shades the map, or ends that.
func (a *Accuracy) Toggle() {
	a.n.Host.ShowPanel()
	a.on = !a.on
	a.asked = a.on
	if _, err := a.n.Session.Calibration(); err != nil && a.on {
		a.n.Foot.Say("Calibrate the sheet first; its accuracy then shows.")
	}
	a.changed()
	a.reveal()
}

// reveal scrolls the words into sight after they were asked for.
func (a *Accuracy) reveal() {
	if !a.asked || !a.have || !a.front {
		return
	}
	a.asked = false
	a.n.Reveal(a.words)
}

// show sees to it that what is shown is of this calibration; nil is none.
func (a *Accuracy) show(sheet plan.Sheet, c *calib.Calibration, aiming bool) {
	show(a.body, c != nil && !aiming)
	a.tool.SetOn(a.on)
	_, working := a.work.Now()
	if !a.on || c == nil {
		a.forget()
	} else if !sameFit(a.sheet, sheet) || !a.have && !working {
		a.start(sheet, c)
	}
	a.words.Set(a.text(), widgets.Note)
	show(a.words, a.on)
}

func (a *Accuracy) forget() {
	a.work.Cancel()
	a.have, a.drawn, a.sheet = false, overlay.Local{}, plan.Sheet{}
}

// start works the accuracy out away from the window. What is shown stays until then.
func (a *Accuracy) start(sheet plan.Sheet, c *calib.Calibration) {
	a.sheet = sheet
	var found overlay.Local
	a.work.Start("accuracy", func(ctx context.Context, _ func(jobs.Progress)) error {
		l, ok := overlay.LocalOf(ctx, c, sheet.Width, sheet.Height)
		if !ok {
			return context.Canceled
		}
		found = l
		return nil
	}, func(err error) {
		if err != nil {
			return
		}
		a.drawn, a.have = found, true
		a.changed()
		a.reveal()
	})
}

// sameFit reports whether two sheets are calibrated by the same things.
func sameFit(a, b plan.Sheet) bool {
	return a.ID == b.ID && a.SameCalibration(b)
}

func (a *Accuracy) addTo(s *overlay.Scene) {
	if a.on && a.have {
		s.Local = a.drawn
	}
}

// text says what the shading means.
func (a *Accuracy) text() string {
	least, most := units.ErrorM(a.drawn.LeastM), units.ErrorM(a.drawn.MostM)
	text := ""
	switch {
	case !a.have:
		return "Calculating…"
	case a.sheet.ByMatrix():
		return a.ofFile(most)
	case len(a.drawn.Levels) == 0:
		text = "If the references are right, positions are good to ± " + most + " (95 %) everywhere"
	default:
		text = fmt.Sprintf("If the references are right, positions are good to ± %s at best and ± %s at worst (95 %%); the denser the hatching, the worse", least, most)
	}
	if a.drawn.Untrusted() {
		text += ". Don't use the map beyond the marked line"
	}
	return text + ". A reference that is out by a whole square would not show here."
}

// ofFile says what is known of a position that a file gives.
func (a *Accuracy) ofFile(figure string) string {
	if a.sheet.WorldM > 0 {
		return "The program takes the file's position to be good to ± " + figure + " (95 %) everywhere. An error in the file would not show here."
	}
	return "The file gives no accuracy; ± " + figure + " (95 %) is assumed everywhere. An error in the file would not show here."
}
