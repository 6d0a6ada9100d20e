package projector

import (
	"strings"

	"legwright/app/lettering"
	"legwright/app/ui/look"
)

// The heights of figures and capitals as parts of the window's height.
const (
	figureShare = 1.0 / 24.5 // of whatever has a figure in it
	setShare    = 1.0 / 11.8 // of the figure to set
	wordShare   = 1.0 / 34   // of words alone
	labelShare  = 1.0 / 48   // of the label over the figure to set
	edgeShare   = 1.0 / 45   // room left and right of everything
	faceShare   = 0.2        // a lower face shows nothing
)

// Written is a text of the board where it stands, in units of the window: its left end and
// the line it stands on, and how high its figures are.
type Written struct {
	Text    string
	X, Line float32
	High    float32
	Wide    float32
	Set     bool // it is the figure to set
	style   lettering.Style
	ink     look.Role
}

// bar is a filled rectangle.
type bar struct {
	x, y, w, h float32
	ink        look.Role
}

// page is the board set out for a size.
type page struct {
	words              []Written
	bars               []bar
	faceX, faceY, side float32 // of the dial's face; side 0: none
}

// part is a text that may take several lines.
type part struct {
	text  string
	share float64
	bold  bool
	ink   look.Role
	plate look.Role // laid beneath it; Paper is none
	rank  int       // parts of the highest rank are left out first, 0 never
	set   bool
	half  string // behind the figure to set
}

// parts lists what is written, in two groups: above the face and beneath it.
func (t told) parts() (above, beneath []part) {
	add := func(to *[]part, p part) {
		if p.text != "" {
			*to = append(*to, p)
		}
	}
	add(&above, part{text: t.water, share: figureShare, bold: true, ink: look.Fault, plate: look.FaultWash})
	add(&above, part{text: t.name, share: wordShare, ink: look.Quiet, rank: 3})
	add(&above, part{text: t.words, share: wordShare, bold: true, ink: look.Ink, rank: 1})
	add(&beneath, part{text: t.stop, share: wordShare, bold: true, ink: look.Fault, plate: look.FaultWash})
	add(&beneath, part{text: t.label, share: labelShare, ink: look.Quiet, rank: 2})
	ink := look.Ink
	if t.struck {
		ink = look.Fault
	}
	add(&beneath, part{text: t.set, half: t.half, share: setShare, bold: true, ink: ink, set: true})
	for i, row := range t.rows {
		rank := 0
		if i > 1 {
			rank = 4
		}
		add(&beneath, part{text: row, share: figureShare, ink: look.Ink, rank: rank})
	}
	add(&beneath, part{text: t.guess, share: figureShare, bold: true, ink: look.Accent})
	for _, note := range t.notes {
		add(&beneath, part{text: note, share: wordShare, ink: look.Caution, plate: look.CautionWash})
	}
	return above, beneath
}

// least is the share of a text: whatever has a figure is as high as figures are.
func (p part) least() float64 {
	if strings.ContainsAny(p.text, "0123456789") && !p.set {
		return max(p.share, figureShare)
	}
	return p.share
}
