package check

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"legwright/app/calib"
	"legwright/app/calib/slips"
)

// sound is the share of sound evidence that agrees.
const sound = 0.99

// miss is how badly the evidence agrees with the points: what it adds to the misfit,
// over the clicks' variance factor.
func (c *held) miss() float64 {
	return math.Max(0, c.judge.Q()-c.alone.Q()) / math.Max(1, c.alone.Scale2())
}

// agrees reports whether the evidence agrees with the points: all of it together, and
// each piece by itself, which many good ones must not drown.
func (c *held) agrees() bool {
	if len(c.rows) == 0 {
		return true
	}
	loose := math.Sqrt(math.Max(1, c.alone.Scale2()))
	if _, off, most := c.worst(); off > loose*most {
		return false
	}
	return c.miss() <= distuv.ChiSquared{K: 2 * float64(len(c.rows))}.Quantile(sound)
}

// allowed is how many standard deviations each piece of evidence may lie off, so that
// all of it together is sound that often.
func (c *held) allowed() float64 {
	return math.Sqrt(distuv.ChiSquared{K: 2}.Quantile(1 - (1-sound)/float64(len(c.rows))))
}

// hold checks the list of slips against points and evidence.
func (c *held) hold() {
	families := append(slips.List(c.list), c.names()...)
	if c.s.ByFile {
		families = append(families, c.files()...)
	}
	c.weighs = slips.Weigh(c.shows, families, c.probed, c.beside()...)
	c.heights = heightsOf(c.s)
}

// beside is what else displaces the evidence: figures of a margin may be on the
// other datum.
func (c *held) beside() [][]calib.Shift {
	var other []calib.Shift
	for k, r := range c.rows {
		if r.other != nil {
			other = append(other, calib.Shift{I: c.behind(k), East: r.point.Ref.E - r.other.E, North: r.point.Ref.N - r.other.N})
		}
	}
	if other == nil {
		return nil
	}
	return [][]calib.Shift{other}
}

// behind is the number of a row of evidence behind the control points.
func (c *held) behind(k int) int { return len(c.list.Points) + k }

func (c *held) open() []slips.Slip {
	if !c.heights.count() {
		return c.weighs.Open(nil)
	}
	return c.weighs.Open(func(f *slips.Family, size float64) bool {
		return c.heights.refute(func(at calib.PicturePt) (float64, float64) { return c.weighs.Truth(f, size, at) })
	})
}
