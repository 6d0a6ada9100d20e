package leg

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// RiseSource says where a rise is known from.
type RiseSource int

// The sources of a rise.
const (
	RiseUnknown RiseSource = iota
	RiseCounted            // the person counted contours
	RiseTerrain            // the plan's terrain
)

// Rise is metres climbed or descended along a leg.
type Rise struct {
	M    float64 // 0 where From is RiseUnknown
	From RiseSource
}

// Known reports whether there is a figure.
func (r Rise) Known() bool { return r.From != RiseUnknown }

// Heights is what a row says of the ground. What a person counted stands before what terrain
// says, figure by figure.
type Heights struct {
	Climb, Descent Rise
	EndM           float64 // height of the leg's end, where HasEnd
	HasEnd         bool
	Profile        terrain.Profile // by terrain alone; the zero Profile without any

	HeightCautions []caution.Caution // what speaks against these; do not write into it
}

// ClimbKnown reports whether both figures are known.
func (h Heights) ClimbKnown() bool { return h.Climb.Known() && h.Descent.Known() }

// End is the height of the leg's end as terrain has it.
func (h Heights) End() Rise {
	if !h.HasEnd {
		return Rise{}
	}
	return Rise{h.EndM, RiseTerrain}
}

// Over returns the reader of the same plan with another height model, nil for none. Sheets are
// not fitted again, and judged again only where heights read off contours are evidence.
func (r *Reader) Over(m *terrain.Model) *Reader {
	if r.model == m {
		return r
	}
	var all []plan.ID
	for _, s := range r.sheets {
		all = append(all, s.id)
	}
	next, _ := r.nextOver(m, r.p, judging{moving: r.waits}, all...) // its readings give the error
	next.rows.known.Store(nil)
	return next
}

// Model returns the height model, nil for none.
func (r *Reader) Model() *terrain.Model { return r.model }

// Ground returns the ground as seen from the grid of the plan's sheets; the zero Ground
// without terrain or grid.
func (r *Reader) Ground() terrain.Ground { return r.model.On(r.System()) }

// SheetsGround returns the corners of the ground that the plan's calibrated sheets cover, on their
// grid, in whole kilometres outwards; ok is false while none is calibrated.
func (r *Reader) SheetsGround() (low, high geodesy.Grid, ok bool) {
	const km = 1000
	low, high = geodesy.Grid{E: math.Inf(1), N: math.Inf(1)}, geodesy.Grid{E: math.Inf(-1), N: math.Inf(-1)}
	for i, s := range r.p.Sheets {
		if r.sheets[i].c == nil {
			continue
		}
		w, h := float64(s.Width), float64(s.Height)
		for _, at := range [...]calib.PicturePt{{}, {Col: w}, {Row: h}, {Col: w, Row: h}} {
			if g := r.sheets[i].c.ToGrid(at); g.IsFinite() { // not so beyond the horizon of a photograph
				low = geodesy.Grid{E: min(low.E, km*math.Floor(g.E/km)), N: min(low.N, km*math.Floor(g.N/km))}
				high = geodesy.Grid{E: max(high.E, km*math.Ceil(g.E/km)), N: max(high.N, km*math.Ceil(g.N/km))}
			}
		}
	}
	return low, high, low.E < high.E && low.N < high.N
}

// HeightAt returns the height in metres at a position; ok is false where terrain has none.
func (r *Reader) HeightAt(pos plan.Position) (m float64, ok bool) {
	sys, err := r.SystemFor(pos)
	if r.model == nil || err != nil {
		return 0, false
	}
	at, _, err := r.Convert(pos, sys)
	if err != nil {
		return 0, false
	}
	return r.model.On(sys).Height(at)
}

// relief is what terrain says of the straight line between two ends.
type relief struct {
	profile terrain.Profile
	convexM float64 // how far from the start the ground below is first convex; negative for nowhere
}

// groundBetween asks the terrain about the line between two positions.
func (r *Reader) groundBetween(from, to plan.Position) relief {
	g, a, b := r.onGround(from, to)
	if g.IsZero() {
		return relief{convexM: -1}
	}
	return relief{g.Underfoot(a, b), g.ConvexBelow(a, b)}
}

// onGround is the ground as seen from a grid of two positions, and both on it; the zero
// Ground without terrain, or where a position cannot be computed.
func (r *Reader) onGround(from, to plan.Position) (g terrain.Ground, a, b geodesy.Grid) {
	sys, err := r.SystemFor(from)
	if r.model == nil || err != nil {
		return terrain.Ground{}, a, b
	}
	var ends [2]geodesy.Grid
	for i, pos := range [...]plan.Position{from, to} {
		if ends[i], _, err = r.Convert(pos, sys); err != nil {
			return terrain.Ground{}, a, b
		}
	}
	return r.model.On(sys), ends[0], ends[1]
}

// EyeM is how far above the ground a person who stands looks from, in metres: a little
// less than the 1.75 m of US Army course EN5622, so that less is called visible.
const EyeM = 1.7

// Sight is what the plan's terrain does to the line of sight from a person who stands at
// one position to the ground at another; ok is false where terrain does not cover all of
// it.
func (r *Reader) Sight(from, to plan.Position) (s terrain.Sight, ok bool) {
	return r.SightAbove(from, EyeM, to, 0)
}

// SightAbove is Sight from an eye to a target that stand so many metres above the ground.
func (r *Reader) SightAbove(from plan.Position, eyeM float64, to plan.Position, targetM float64) (s terrain.Sight, ok bool) {
	g, a, b := r.onGround(from, to)
	return g.Visible(a, eyeM, b, targetM)
}

// heights fills in what is known of the ground under a leg.
func (r *Reader) heights(row *Row, l plan.Leg, g relief) {
	p := g.profile
	h := Heights{Profile: p}
	if up, down, ok := p.Climb(); ok {
		h.Climb, h.Descent = Rise{up, RiseTerrain}, Rise{down, RiseTerrain}
	}
	if n := len(p.Points); n > 0 {
		h.EndM = p.Points[n-1].HeightM
		h.HasEnd = h.EndM == h.EndM
	}
	for _, c := range [...]struct {
		counted plan.Counted
		to      *Rise
	}{{l.Climb, &h.Climb}, {l.Descent, &h.Descent}} {
		if c.counted.Known {
			*c.to = Rise{c.counted.M, RiseCounted}
		}
	}
	var steepKnown bool
	h.HeightCautions, steepKnown = r.OverSteep(caution.SteepLeg, p)
	switch {
	case len(r.p.Terrain) == 0 || steepKnown:
	case !h.ClimbKnown():
		h.HeightCautions = append(h.HeightCautions, caution.Of(caution.NoTerrain))
	default: // somebody counted its contours, or posts beside it are missing
		h.HeightCautions = append(h.HeightCautions, caution.Of(caution.SteepnessUnknown))
	}
	if m := g.convexM; m >= 0 {
		h.HeightCautions = append(h.HeightCautions, caution.Of(caution.ConvexGround, FirstWords(m)))
	}
	if len(h.Profile.Points) > 0 {
		h.HeightCautions = append(h.HeightCautions, r.GroundCautions()...)
	}
	row.Heights = h
}

// OverSteep is the caution of that code where ground as steep as the plan calls over-steep lies under
// a way: none where it lies nowhere that is known. known is false unless the steepness under all of
// the way is known.
func (r *Reader) OverSteep(code caution.Code, way terrain.Profile) (list []caution.Caution, known bool) {
	firstM, most, known := way.OverSteep(terrain.OverSteep(r.model.SpacingM(), r.p.OverSteep()))
	if firstM >= 0 {
		list = []caution.Caution{caution.Of(code, FirstWords(firstM), fmt.Sprintf("%.0f°", most.Deg()))}
	}
	return list, known
}

// FirstWords say where on a leg, metres from its start, the ground is first of a kind: to the 10 m
// before it, as no terrain knows it to the metre.
func FirstWords(m float64) string {
	if m < 10 {
		return "from the start of the leg"
	}
	return fmt.Sprintf("from %.0f m into the leg", 10*math.Floor(m/10))
}

// GroundCautions returns what speaks against everything that is read from the plan's terrain, of
// whichever leg: nothing without terrain.
func (r *Reader) GroundCautions() []caution.Caution {
	if r.model == nil {
		return nil
	}
	return []caution.Caution{caution.Of(caution.BlindTerrain, fmt.Sprintf("%.0f m", terrain.Blind(r.model, r.p.OverSteep())))}
}
