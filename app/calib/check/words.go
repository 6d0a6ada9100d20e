package check

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"legwright/app/calib"
	"legwright/app/calib/slips"
	"legwright/app/caution"
	"legwright/app/units"
)

// stops are the stops that evidence and the named slips raise.
func (c *held) stops(named []slips.Slip) []caution.Caution {
	var out []caution.Caution
	if !c.agrees() {
		r, off, most := c.worst()
		out = append(out, caution.Of(caution.EvidenceDisagree, c.words(r), units.ErrorM(off), units.ErrorM(most)))
	}
	if off, most, bad := c.heights.worst(); bad {
		out = append(out, caution.Of(caution.HeightsDisagree, units.ErrorM(off), units.ErrorM(most)))
	}
	if c.s.Misquoted != "" {
		out = append(out, caution.Of(caution.SlipNamed, c.s.Misquoted))
	}
	switch {
	case len(named) == 0:
	case c.guesses():
		out = append(out, caution.Of(caution.SlipSet, slipWords(named, " ")+"; or another control point (add a fifth: on a photograph, four do not show which one is wrong)"))
	case len(named) == 1 && named[0].Certain():
		out = append(out, caution.Of(caution.SlipNamed, named[0].Words))
	case len(named) == 1:
		out = append(out, caution.Of(caution.SlipSet, named[0].Words+"; or the points were not clicked exactly"))
	default:
		out = append(out, caution.Of(caution.SlipSet, slipWords(named, " or ")))
	}
	return out
}

// namingPoints is how many control points a photograph needs before the slip that is
// named is the right one. With four, the wrong reference tilts the camera of the fit, and
// judged at that tilt another slip often looks likelier (our own made sheets).
const namingPoints = 5

// guesses reports whether the slip may be another than those named.
func (c *held) guesses() bool {
	return c.s.Fit.Medium() == calib.Photograph && len(c.list.Points) < namingPoints
}

// mostSlips is how many slips a sentence lists.
const mostSlips = 4

func slipWords(set []slips.Slip, last string) string {
	var words []string
	for _, s := range set[:min(len(set), mostSlips)] {
		words = append(words, s.Words)
	}
	if more := len(set) - len(words); more > 0 {
		words = append(words, fmt.Sprintf("%d more", more))
	}
	if len(words) == 1 {
		return words[0]
	}
	return strings.Join(words[:len(words)-1], "; ") + ";" + last + words[len(words)-1]
}

func metres(m float64) string { return units.Grouped(math.Ceil(m)) + " m" }

// worst returns the evidence that lies farthest from where the sheet has it, in its
// own uncertainty, how far in metres and how far is allowed.
func (c *held) worst() (r row, offM, mostM float64) {
	ratio := -1.0
	for _, x := range c.rows {
		off, sigma := c.off(x)
		most := sigma * c.allowed()
		if off/most > ratio {
			ratio, r, offM, mostM = off/most, x, off, most
		}
	}
	return r, offM, mostM
}

// off is how far evidence lies from where the sheet has it and the standard
// deviation of that, along its worst direction, in metres.
func (c *held) off(r row) (offM, sigmaM float64) {
	g := c.s.Fit.ToGrid(r.At)
	pick := r.SigmaPx
	if pick == 0 {
		pick = calib.DefaultSigmaPx
	}
	cov := c.s.Fit.Covariance(r.At, pick)
	long := (cov.EE+cov.NN)/2 + math.Hypot((cov.EE-cov.NN)/2, cov.EN)
	return math.Hypot(r.point.Ref.E-g.E, r.point.Ref.N-g.N), math.Sqrt(math.Max(0, long) + r.point.SigmaRefM*r.point.SigmaRefM)
}

// bound returns what checks the sheet most closely, and to how many metres: what
// that evidence would have shown, or what the calibration states of itself where
// that is more. Errors beyond are rarer than 1 %.
func (c *held) bound() (by string, withinM float64) {
	withinM = math.Inf(1)
	wide := math.Sqrt(distuv.ChiSquared{K: 2}.Quantile(sound))
	var best row
	for _, r := range c.rows {
		if !c.bounds(r) {
			continue
		}
		off, sigma := c.off(r)
		x := off + wide*sigma
		if r.through != nil {
			x = math.Max(x, r.through.WithinM)
		}
		if x < withinM {
			withinM, best = x, r
		}
	}
	return c.words(best), math.Max(withinM, c.ownM())
}

// ownM is what the calibration states of itself, with 99 %.
func (c *held) ownM() float64 {
	own := 0.0
	for _, p := range c.probed {
		own = math.Max(own, p.WidthM)
	}
	const from95to99 = 1.5 // Student's law of few degrees of freedom, two axes
	return from95to99 * own
}

// scope is what the evidence covers: latitude and longitude only where a receiver, a
// file or a sheet with that scope agrees, or a margin that agrees on WGS 84 and would
// not on the grid's own datum.
func (c *held) scope() Scope {
	for _, r := range c.rows {
		switch {
		case r.SquareM > 0 || r.ownGrid:
		case r.Source == calib.FromReceiver && r.LatLon, r.Source == calib.FromFile:
			return WithLatLon
		case r.through != nil && r.through.Scope == WithLatLon:
			return WithLatLon
		case r.Source == calib.FromMargin && !r.own && r.other != nil:
			_, sigma := c.off(r)
			if apart := math.Hypot(r.point.Ref.E-r.other.E, r.point.Ref.N-r.other.N); apart*apart >= slips.Visible*sigma*sigma {
				return WithLatLon
			}
		}
	}
	return OnGrid
}

// photoPoints is how many control points a photograph needs before a slip can no
// longer pass for another tilt of the camera. With four, one line a square out
// leaves another perspective that fits, at some one sheet in 3,000 (our own made
// sheets); judged linearly at that perspective, the slip looks as if it would show.
const photoPoints = 6

// notes returns the notes on an unchecked sheet.
func (c *held) notes(n next) []caution.Caution {
	out := []caution.Caution{caution.Of(caution.Unchecked)}
	switch {
	case len(n.open) > 0:
		out = append(out, caution.Of(caution.OpenSlip, shortWords(n.open), c.closing(n)))
	case c.s.Chosen:
		out = append(out, caution.Of(caution.OpenSlip,
			"the points would agree just as well if another reference had been corrected", "Check the sheet with a reference that does not come from this map's grid"))
	case c.s.Fit.Medium() == calib.Photograph && len(c.list.Points) < photoPoints:
		out = append(out, caution.Of(caution.OpenSlip,
			"wrong references along one line look just like a tilted camera", "Add control points until there are six"))
	}
	for _, name := range c.waits {
		out = append(out, caution.Of(caution.RestsOnUnchecked, name))
	}
	return out
}

// shortWords names a slip that would not show, and how many more there are.
func shortWords(set []slips.Slip) string {
	words := set[0].Bare()
	if n := len(set) - 1; n > 0 {
		words += fmt.Sprintf(", and %d more", n)
	}
	return words
}

// closing says what would show slips of points and lines: a further intersection
// where it shows most of them.
func (c *held) closing(n next) string {
	text := "Add a control point " + c.where(n.at)
	if n.shown < len(n.open) {
		text += ", and another elsewhere"
	}
	return text
}

// shown counts the slips that an exact reference at a point would show.
func (c *held) shown(at calib.PicturePt, open []slips.Slip) int {
	further := c.judge.Further(calib.ControlPoint{At: at, Ref: c.s.Fit.ToGrid(at)})
	n := 0
	for _, s := range open {
		if further.Shows(s.Shifts()) >= slips.Visible {
			n++
		}
	}
	return n
}

// advice says what would check the sheet.
func (c *held) advice(open []slips.Slip) string {
	kinds := map[slips.Kind]bool{}
	for _, s := range open {
		kinds[s.Kind] = true
	}
	switch {
	case kinds[slips.OfPoint] || kinds[slips.OfLine]:
		return "" // said by open-slip
	case kinds[slips.OfName] && kinds[slips.OfFile]:
		return "Name three grid intersections that are not in a straight line, and one corner of the map by the latitude and longitude printed in the margin."
	case kinds[slips.OfFile]:
		return "Name three grid intersections that are not in a straight line, each by the numbers printed beside its lines."
	case kinds[slips.OfName]:
		return "Check a corner by the latitude and longitude printed in the margin: easting and northing cannot show a wrong zone or projection."
	case kinds[slips.OfAll] && len(c.rows) > 0 && len(c.list.OwnGrid) == len(c.rows):
		return "This check uses the grid lines that the control points were read from. Check a feature away from these lines instead, with a reference from a list, a receiver, or the latitude and longitude in the margin."
	case kinds[slips.OfAll] && len(c.rows) > 0:
		return "This check would agree even if every control point were one grid square out. Check with latitude and longitude from the margin, or with a feature from a list or a receiver that is good to " + metres(c.wanted()) + " or better."
	}
	return "Check a corner by the latitude and longitude printed in the margin, or a feature whose reference comes from a list or a receiver."
}

// wanted is how well evidence must be known, as half a square's side, to show a
// square: seven standard deviations of side/√12.
func (c *held) wanted() float64 {
	step, _ := c.list.Steps()
	return step * c.unitM() / 7
}

// words names evidence: "the margin's latitude and longitude in the north-east".
func (c *held) words(r row) string {
	if r.Evidence == nil {
		return ""
	}
	if r.SquareM > 0 {
		return "the printed grid " + c.where(r.At)
	}
	what := map[calib.EvidenceSource]string{
		calib.FromMargin: "the margin's reference", calib.FromList: "the listed feature", calib.FromReceiver: "the receiver's position",
		calib.FromFile: "the file's georeference", calib.FromTerrain: "the terrain", calib.FromOwnGrid: "the grid intersection",
		calib.FromSheet: "the feature “" + r.Text + "” on another sheet",
	}[r.Source]
	if from := c.t.byID(r.Sheet); r.Source == calib.FromSheet && from != nil {
		what = "the feature “" + r.Text + "” on " + from.Name
	}
	if r.Source == calib.FromMargin && r.LatLon {
		what = "the margin's latitude and longitude"
		if r.own {
			what += " on the grid's own datum"
		} else {
			what += " on WGS 84"
		}
	}
	return what + " " + c.where(r.At)
}

// where says in which part of the picture a point lies: "in the top left".
func (c *held) where(at calib.PicturePt) string {
	part := func(v, size float64, names [3]string) string {
		switch {
		case v < size/3:
			return names[0]
		case v > size*2/3:
			return names[2]
		}
		return names[1]
	}
	row := part(at.Row, float64(c.s.Height), [3]string{"top", "", "bottom"})
	col := part(at.Col, float64(c.s.Width), [3]string{"left", "", "right"})
	if text := strings.TrimSpace(row + " " + col); text != "" {
		return "in the " + text
	}
	return "in the middle"
}
