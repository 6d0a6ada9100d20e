package check

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

// leastHeights is how many heights it takes: fewer agree with much of any hill.
const leastHeights = 6

// What a height that was read off a printed contour may be out by.
const (
	// contourPart is σ in parts of the interval: 90 % of a map's heights lie within half
	// an interval (United States National Map Accuracy Standards, 1947, from memory).
	contourPart = 0.5 / 1.645
	// unsaidContourM stands for an interval that nobody said (common practice, no source).
	unsaidContourM = 20
	// postPart and leastPostM are σ of terrain's heights, by how far apart its posts
	// stand (common practice, no source).
	postPart, leastPostM = 0.1, 2
)

// Slips are shown with an error of 1 in 4,000, as package slips shows them, and where
// terrain does not reach by as many places that it does reach.
const (
	rare       = 1 - 1.0/4000
	leastTried = 4000
)

// heights are heights that were read off the contours of a sheet, beside those of terrain.
// They are evidence without a position: a slip of the points moves them over other ground,
// and shows if the heights there are others.
type heights struct {
	s       *Sheet
	list    []height
	of      []int // of each height, its place among the evidence
	withinM float64
	chance  bool // the heights agree nowhere else
}

// height is one of them.
type height struct {
	at      geodesy.Grid // where the sheet has it
	picture calib.PicturePt
	m       float64
	aroundM float64 // how far off the contour may lie
	sigmaM  float64
}

// heightsOf takes the heights among a sheet's evidence.
func heightsOf(s *Sheet) heights {
	h := heights{s: s, withinM: math.Inf(1)}
	if s.Ground == nil || s.Fit == nil {
		return h
	}
	contour := s.ContourM
	if contour == 0 {
		contour = unsaidContourM
	}
	sigma := math.Hypot(contourPart*contour, math.Max(postPart*s.PostM, leastPostM))
	for i, e := range s.Evidence {
		if e.Source == calib.FromTerrain && e.Why == "" {
			h.of = append(h.of, i)
			h.list = append(h.list, height{s.Fit.ToGrid(e.At), e.At, e.HeightM, s.Fit.HalfWidth95M(e.At) + s.Fit.MetresPerPixel()*2, sigma})
		}
	}
	if h.enough() && h.agrees() {
		h.scan()
	}
	return h
}

func (h *heights) enough() bool { return len(h.list) >= leastHeights }

// count reports whether the heights say where the sheet lies.
func (h *heights) count() bool { return h.enough() && h.agrees() && h.chance }

// off is how far a height lies from those of the terrain within reach of a position, in its
// own σ; ok is false where some of that ground is not known.
func (h *heights) off(x height, at geodesy.Grid) (sigmas float64, ok bool) {
	low, high := math.Inf(1), math.Inf(-1)
	for k := range 9 {
		p := at
		if k > 0 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 4)
			p.E, p.N = p.E+x.aroundM*sin, p.N+x.aroundM*cos
		}
		m, known := h.s.Ground(p)
		if !known {
			return 0, false
		}
		low, high = math.Min(low, m), math.Max(high, m)
	}
	return math.Max(0, math.Max(low-x.m, x.m-high)) / x.sigmaM, true
}

// misfit is the sum of squares of all heights where they lie if they are moved; ok is
// false where some ground is not known. It ends early once it is beyond enough.
func (h *heights) misfit(moved func(calib.PicturePt) (eastM, northM float64), enough float64) (sum float64, ok bool) {
	for _, x := range h.list {
		e, n := moved(x.picture)
		off, known := h.off(x, geodesy.Grid{E: x.at.E + e, N: x.at.N + n})
		if !known {
			return 0, false
		}
		if sum += off * off; sum > enough {
			break
		}
	}
	return sum, true
}

// most is the misfit that heights at the right place exceed that rarely.
func (h *heights) most(sound float64) float64 {
	return distuv.ChiSquared{K: float64(len(h.list))}.Quantile(sound)
}

func unmoved(calib.PicturePt) (eastM, northM float64) { return 0, 0 }

// agrees reports whether the heights are those of the terrain where the sheet has them.
func (h *heights) agrees() bool {
	sum, ok := h.misfit(unmoved, math.Inf(1))
	return ok && sum <= h.most(sound)
}

// refute reports whether the heights would not be those of the terrain if the points lay
// elsewhere. Where terrain does not reach, they count as refuted if they agree nowhere
// that it does reach.
func (h *heights) refute(moved func(calib.PicturePt) (eastM, northM float64)) bool {
	most := h.most(rare)
	sum, known := h.misfit(moved, most)
	if !known {
		return h.chance
	}
	return sum > most
}

// Steps and reaches of the scan in metres (our own).
const (
	fineStepM, fineReachM     = 20.0, 400.0
	coarseStepM, coarseReachM = 100.0, 6000.0
)

// shift is a place of the scan: how far all heights are moved, and how far out the sheet
// may be if they agree there.
type shift struct{ eastM, northM, outM float64 }

// shifts are the places of the scan, the farthest first.
var shifts = sync.OnceValue(func() (list []shift) {
	add := func(beyond, reach, step float64) {
		for e := -reach; e <= reach; e += step {
			for n := -reach; n <= reach; n += step {
				if max(math.Abs(e), math.Abs(n)) >= beyond {
					list = append(list, shift{e, n, math.Hypot(e, n) + step})
				}
			}
		}
	}
	add(fineReachM, coarseReachM, coarseStepM)
	add(0, fineReachM, fineStepM)
	slices.SortStableFunc(list, func(a, b shift) int { return cmp.Compare(b.outM, a.outM) })
	return list
})

// scan moves all heights together over the terrain: the farthest place where they agree
// bounds how far out the sheet may be. It ends as soon as no further place can change what
// it finds.
func (h *heights) scan() {
	tried, most := 0, h.most(rare)
	h.withinM = 0
	for _, to := range shifts() {
		if h.withinM > fineReachM || h.withinM > 0 && tried >= leastTried {
			break
		}
		sum, known := h.misfit(func(calib.PicturePt) (float64, float64) { return to.eastM, to.northM }, most)
		if !known {
			continue
		}
		tried++
		if sum <= most && h.withinM == 0 {
			h.withinM = to.outM
		}
	}
	h.chance = tried >= leastTried && h.withinM <= fineReachM
}

// bound is to how many metres the heights check the sheet.
func (h *heights) bound() (by string, withinM float64) {
	if !h.count() {
		return "", math.Inf(1)
	}
	return "contours whose heights agree with the terrain", h.withinM
}

// worst is the height that is farthest from the terrain, in metres, and how far it may be;
// bad if the heights do not agree.
func (h *heights) worst() (offM, mostM float64, bad bool) {
	for i := range h.list {
		if r := h.result(h.of[i]); r.Counts && r.OffM-r.MostM > offM-mostM || i == 0 {
			offM, mostM = r.OffM, r.MostM
		}
	}
	sum, known := h.misfit(unmoved, math.Inf(1))
	return offM, mostM, known && h.enough() && sum > h.most(sound)
}

// result is that of a height by its place among the evidence. It counts once there are
// enough of them.
func (h *heights) result(evidence int) Result {
	for i, of := range h.of {
		if of != evidence {
			continue
		}
		x := h.list[i]
		off, known := h.off(x, x.at)
		wide := math.Sqrt(distuv.ChiSquared{K: 1}.Quantile(1 - (1-sound)/float64(len(h.list))))
		return Result{Counts: known && h.enough(), OffM: off * x.sigmaM, MostM: wide * x.sigmaM}
	}
	return Result{}
}
