package escape

import (
	"math"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// behindM is how far behind its end a leg may have a line that catches the party, metres.
const behindM = 200

// endOf says what an escape ends at and on, and what speaks against that.
func (j *judge) endOf(e plan.Escape, out *Escape) (list []caution.Caution) {
	last := out.Legs[len(out.Legs)-1]
	if last.Err != nil {
		return nil
	}
	n := len(last.Way)
	end, before := last.Way[n-1], last.Way[max(n-2, 0)]
	for _, h := range j.havens {
		if h.shape.DistanceM(end)*last.scale <= onLineM {
			out.Haven, out.To = h.id, h.title
			if h.kind == plan.LockedShelter || h.kind == plan.SignalHaven {
				list = append(list, caution.Of(caution.HavenNoShelter, h.title, h.kind.String()))
			}
			break
		}
	}
	if out.Haven == "" {
		list = append(list, caution.Of(caution.EscapeNoHaven))
	}
	if out.EndsOn = j.endsOn(last, before, end); out.EndsOn == "" {
		list = append(list, caution.Of(caution.EscapeEnd))
	}
	return list
}

// endsOn names the line that a leg ends on, or that lies behind its end in the direction
// of its last part, with how far; "" for none.
func (j *judge) endsOn(l Leg, before, end geodesy.Grid) string {
	nearest, title := math.Inf(1), ""
	behind := end
	if d := math.Hypot(end.E-before.E, end.N-before.N); d > 0 {
		behind = between(before, end, 1+behindM/l.scale/d)
	}
	for _, x := range j.lines {
		if x.id == l.Along || x.shape.DistanceM(end)*l.scale <= onLineM {
			return x.title
		}
		if spans := x.shape.Meets(end, behind); len(spans) > 0 && spans[0].FromM*l.scale < nearest {
			nearest, title = spans[0].FromM*l.scale, x.title
		}
	}
	if title == "" {
		return ""
	}
	return title + ", " + metres(nearest) + " beyond"
}

// latLon is the latitude and longitude of an end.
func (j *judge) latLon(e plan.End) (geodesy.LatLon, bool) {
	pos := j.at.Of(e)
	sys, err := j.r.SystemOf(pos.Code)
	if err != nil {
		return geodesy.LatLon{}, false
	}
	ll, _, err := sys.ToWGS84(pos.Grid)
	return ll, err == nil
}

// between is the position at a share of a straight line.
func between(a, b geodesy.Grid, share float64) geodesy.Grid {
	return geodesy.Grid{E: a.E + share*(b.E-a.E), N: a.N + share*(b.N-a.N)}
}
