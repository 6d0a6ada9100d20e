package plan

import (
	"fmt"

	"legwright/app/units"
)

// Slopes in degrees that a leader may call over-steep (common practice, no source).
const (
	MinOverSteepDeg = 10
	MaxOverSteepDeg = 45
)

// SetOverSteep returns the plan with the slope in degrees from which ground counts as over-steep,
// 0 for the one that goes with the spacing of its terrain.
func (p *Plan) SetOverSteep(deg int) *Plan {
	return p.with(func(q *Plan) { q.OverSteepDeg = deg })
}

// OverSteep is that slope, 0 while nobody has set one.
func (p *Plan) OverSteep() units.Angle { return units.Degrees(float64(p.OverSteepDeg)) }

// badOverSteep says what is wrong with the slope.
func (p *Plan) badOverSteep() string {
	if d := p.OverSteepDeg; d != 0 && (d < MinOverSteepDeg || d > MaxOverSteepDeg) {
		return fmt.Sprintf("over-steep ground begins at %d°, but it must be between %d° and %d°", d, MinOverSteepDeg, MaxOverSteepDeg)
	}
	return ""
}
