package calib

import "fmt"

// Unseen says what a proof leaves open, as a sentence, "" where there is no
// proof or where it names none. References are compared with references: they
// agree as well where the grid is named on another datum than its printed lines
// are on, which moves latitude and longitude by some hundred metres at the most
// (from the published shifts of the catalogue's grids, whose greatest are those
// of Japan) and leaves bearings as they are. Named crossings are held to a part of
// a pixel, which on a coarse picture is a length.
func (p Proof) Unseen(metresPerPixel float64) string {
	if !p.Proved() || p.Kind == ProofMargin {
		return ""
	}
	text := "Not shown by it: "
	if p.Kind == ProofPrintedGrid {
		text += fmt.Sprintf("a shift of less than %s m; and ", figure(NameWithinPx*metresPerPixel))
	}
	return text + "whether the grid is named on the right datum. Bearings and distances hold on the wrong one, but latitude, longitude and so a GPS would be off by up to some hundred metres: compare a latitude and longitude that the margin prints."
}
