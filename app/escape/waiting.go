package escape

import (
	"errors"
	"math"

	"legwright/app/caution"
	"legwright/app/plan"
)

// errWaits stands in each leg of an escape that is not judged yet.
var errWaits = errors.New("it is not judged yet: wait a moment")

// waiting is an escape before it is judged.
func (j *judge) waiting(e plan.Escape, out Escape) Escape {
	out.Waits, out.Cautions = true, []caution.Caution{caution.Of(caution.EscapeNotJudged)}
	out.Minutes, out.DarkMinutes, out.OffLineM, out.LongestM = math.NaN(), math.NaN(), math.NaN(), math.NaN()
	for i, own := range e.Legs {
		l := j.legHead(e, i)
		l.Err, l.LengthM = errWaits, math.NaN()
		if j.sys != nil {
			if ends, err := j.r.OnCommon(j.at.Of(e.From(i)), j.at.Of(own.To)); err == nil {
				j.lay(&l, own, ends[0], ends[1])
			}
		}
		l.Cautions = nil
		out.Legs = append(out.Legs, l)
	}
	return out
}
