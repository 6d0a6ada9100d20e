package relief

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
)

// legend says over the sheet what is drawn of the ground, or how far its reading has come.
type legend struct {
	body  *widgets.Surface
	words *widgets.Quiet
	tools *fyne.Container
	keep  *widgets.Tool
	stop  *widgets.Tool
}

func newLegend(keep, cancel func(), hint func(string)) *legend {
	l := &legend{words: widgets.NewWrappedQuiet(""), keep: widgets.NewTextTool("", "Keep", "Add the proposed areas as hazards · Ctrl+Shift+H", keep), stop: widgets.NewTextTool("", "Cancel", "", cancel)}
	l.keep.OnHint, l.stop.OnHint = hint, hint
	l.tools = container.NewHBox(layout.NewSpacer(), l.keep, l.stop)
	l.body = widgets.NewStrip(container.NewBorder(nil, l.tools, nil, nil, l.words))
	l.body.Hide()
	return l
}

// showLegend brings the legend up to date.
func (r *Relief) showLegend() {
	l := r.legend
	_, busy := r.reading.Now()
	l.words.SetText(r.legendWords())
	l.stop.SetHint("Cancel reading the terrain")
	if r.Proposes() {
		l.stop.SetHint("Discard the proposed areas · Esc")
	}
	show(l.keep, r.Proposes())
	show(l.tools, busy || r.Proposes())
	show(l.body, r.On() || r.Proposes())
	r.n.Arrange()
}

// show shows a part of the legend or hides it.
func show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

// legendWords are what the legend says: of what is proposed alone while there is something.
func (r *Relief) legendWords() string {
	if r.Proposes() {
		return r.propose.open.words(r.n.Session)
	}
	now, can := r.subject()
	if job, busy := r.reading.Now(); busy {
		share, _ := job.Progress.Share()
		return fmt.Sprintf("Reading the terrain under this sheet: %.0f %%", 100*share)
	}
	switch {
	case !can && len(r.n.Session.Plan().Terrain) == 0:
		return "The plan has no terrain, so no slopes or contours can be drawn."
	case r.uncalibrated():
		return "Calibrate this sheet to see its slopes and contours."
	case !can || r.have == nil || r.of != now:
		return "The plan's terrain is not open or is still being read, so no slopes or contours can be drawn."
	}
	var words []string
	if r.steep {
		s := overlay.SlopeLevels(r.overDeg())
		words = append(words, fmt.Sprintf("Hatched from %.0f°, denser from %.0f° and again from %.0f°, cross-hatched from %.0f°. Thick lines: over-steep, %.0f° or more.", s[0], s[1], s[2], s[3], r.overDeg()))
	}
	if m := r.intervalM(); m > 0 {
		words = append(words, fmt.Sprintf("Contours of the terrain every %g m.", m))
	}
	switch some, all := r.have.Voids(); {
	case all:
		words = append(words, "The terrain has no heights on this sheet.")
	case some:
		words = append(words, "Crosses: the terrain has no heights there.")
	}
	for _, c := range r.n.Session.Reader().GroundCautions() {
		words = append(words, firstSentence(c.Text()))
	}
	return strings.Join(words, " ")
}

// firstSentence is the first one of a caution: the rest stands with every leg.
func firstSentence(text string) string {
	first, _, _ := strings.Cut(text, ". ")
	return strings.TrimSuffix(first, ".") + "."
}
