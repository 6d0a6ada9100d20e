package overlay

import (
	"image/color"

	"legwright/canvas/view"
)

// SpotKind says what a spot marks.
type SpotKind int

// The kinds of spots.
const (
	Aimed     SpotKind = iota // the position aimed at
	Agrees                    // a feature that the calibration was checked by, and agrees
	Disagrees                 // one that disagrees
	Unused                    // one that was not compared
)

// Spot is a position of the sheet that a calibration is being made or checked with, and
// that is not a control point: a long open cross where it is aimed at, else a triangle.
type Spot struct {
	At   view.PicPt
	Text string // its reference as typed; may be empty
	Kind SpotKind
}

// kind is how the spot's lines look.
func (s Spot) kind() kind {
	switch s.Kind {
	case Aimed, Disagrees:
		return controlChosen
	case Agrees:
		return foundWell
	}
	return markLine
}

func (s Spot) ink() color.NRGBA {
	switch s.Kind {
	case Aimed, Disagrees:
		return vermillion
	case Agrees:
		return blue
	}
	return black
}

// spot draws one; its middle stays free, so that the feature there is seen.
func (d *drawing) spot(s *strip, pr *profile, spot Spot) {
	at, px := d.v.ToScreen(spot.At), d.p.px
	if !d.sees(at, at) {
		return
	}
	if spot.Kind == Aimed {
		for _, q := range [4][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			s.segment(pr, at.Add(q[0]*8*px, q[1]*8*px), at.Add(q[0]*22*px, q[1]*22*px), false)
		}
		return
	}
	corners := [4]view.ScreenPt{at.Add(0, -12*px), at.Add(11*px, 7*px), at.Add(-11*px, 7*px), at.Add(0, -12*px)}
	for i := range 3 {
		s.segment(pr, corners[i], corners[i+1], true)
	}
}

// spotTexts names the features that a sheet was checked by.
func (d *drawing) spotTexts(aimed bool) {
	for _, spot := range d.scene.Spots {
		if aimed != (spot.Kind == Aimed) {
			continue
		}
		d.beside(spot.Text, controlSize, true, spot.ink(), d.v.ToScreen(spot.At), 15)
	}
}
