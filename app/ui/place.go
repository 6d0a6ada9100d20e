package ui

import (
	"fmt"
	"strings"

	"legwright/app/caution"
	"legwright/app/ui/foot"
	"legwright/mapio/georef"
)

// maxPlacePoints is how many points of a file are taken as control points.
const maxPlacePoints = 64

// offerPlace calibrates a sheet that has no calibration by what its file says
// about where it lies. It stays unchecked.
func (b *Bench) offerPlace(e ending) {
	p := e.place
	b.sheetP.knows.judge.place = p
	defer b.sheetP.refresh()
	sheet, ok := b.s.Sheet()
	if p == nil || !ok || len(sheet.Points) > 0 || sheet.World != nil {
		return
	}
	switch {
	case p.System == nil:
		b.tell("The place in the file cannot be used", foot.SentenceOf(strings.Join(append([]string{p.Unknown}, p.Notes...), "; "))+
			" Calibrate by the printed grid.")
	case p.Matrix != nil:
		b.try(b.s.TakePlace(*p.Matrix, p.SigmaM, p.System.Code()), placedWords(p))
	case len(p.Points) > maxPlacePoints:
		b.tell("The file places the picture by too many points", fmt.Sprintf(
			"It gives %d points, more than the %d that are taken as control points. Calibrate by the printed grid.", len(p.Points), maxPlacePoints))
	case len(p.Points) > 0:
		b.try(b.s.TakePlacePoints(p.Points, p.SigmaM, p.System.Code(), p.Medium()), placedWords(p))
	}
	b.takeFileCautions(p.Cautions)
	if p.System != nil && len(p.Notes) > 0 {
		b.tell("About the place in the file", foot.SentenceOf(strings.Join(p.Notes, "; ")))
	}
}

// takeFileCautions keeps what a picture says against its own georeference, as one
// does that was rectified from a sheet with cautions.
func (b *Bench) takeFileCautions(text string) {
	list := caution.Parse(text)
	if len(list) == 0 || !b.sheetNow().RestsOnFile() {
		return
	}
	b.try(b.s.TakeFileCautions(text), "The picture carries cautions: "+strings.Join(caution.Shorts(list), ", ")+".")
}

func placedWords(p *georef.Georeference) string {
	return fmt.Sprintf("Calibrated from %s, on %s. The sheet is unchecked until evidence agrees.", p.Source, p.System.Name())
}

// shortRef is a reference as it is listed: what a file gives to the millimetre
// is wider than the panel, and is listed to the metre.
func shortRef(text string) string {
	const room = 16 // letters
	var e, n float64
	if len(text) <= room {
		return text
	}
	if _, err := fmt.Sscanf(text, "%g %g", &e, &n); err != nil || fmt.Sprintf("%.3f %.3f", e, n) != text {
		return text
	}
	return fmt.Sprintf("%.0f %.0f", e, n)
}
