package projector

import (
	"strings"

	"legwright/app/ui/look"
)

// The heights of figures and capitals as parts of the window's height.
const (
	figureShare = 1.0 / 24.5 // of whatever has a figure in it
	setShare    = 1.0 / 11.8 // of the figure to set
	wordShare   = 1.0 / 34   // of words alone
	labelShare  = 1.0 / 48   // of the label over the figure to set
	edgeShare   = 1.0 / 45   // room left and right of everything
	faceShare   = 0.2        // of the dial's face: a lower one shows nothing
	plateShare  = 0.42       // of the compass that is stepped through
)

// part is a text that may take several lines.
type part struct {
	text   string
	share  float64
	bold   bool
	ink    look.Role
	plate  look.Role // laid beneath it; Paper is none
	rank   int       // parts of the highest rank are left out first, 0 never
	set    bool
	half   string // behind the figure to set
	struck bool   // nobody may walk on it
}

// mostRank is the rank of what is left out first.
const mostRank = 4

// high is the share of a part: whatever has a figure is as high as figures are.
func (p part) high() float64 {
	if strings.ContainsAny(p.text, "0123456789") && !p.set {
		return max(p.share, figureShare)
	}
	return p.share
}

func words(text string, rank int) part {
	return part{text: text, share: wordShare, bold: true, ink: look.Ink, rank: rank}
}

func quiet(text string, rank int) part {
	return part{text: text, share: wordShare, ink: look.Quiet, rank: rank}
}

func row(text string, rank int) part {
	return part{text: text, share: figureShare, ink: look.Ink, rank: rank}
}

func fault(text string, share float64) part {
	return part{text: text, share: share, bold: true, ink: look.Fault, plate: look.FaultWash}
}

// figureToSet is the figure to set with what stands behind it; one that nobody may walk on is
// struck through.
func figureToSet(text, half string, struck bool) part {
	p := part{text: text, half: half, share: setShare, bold: true, ink: look.Ink, set: true, struck: struck}
	if struck {
		p.ink = look.Fault
	}
	return p
}
