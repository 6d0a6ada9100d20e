package session

import (
	"fmt"
	"strconv"
	"strings"

	"legwright/app/plan"
)

// SetOverSteep sets from text such as 22 or 22° the slope from which ground counts as over-steep, or
// from an empty one that it goes with the spacing of the terrain.
func (s *Session) SetOverSteep(text string) error {
	body, deg := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "°")), 0
	if body != "" {
		var err error
		if deg, err = strconv.Atoi(body); err != nil || deg < plan.MinOverSteepDeg || deg > plan.MaxOverSteepDeg {
			return fmt.Errorf("%q cannot be used as a slope: type whole degrees between %d and %d, or leave the field empty", text, plan.MinOverSteepDeg, plan.MaxOverSteepDeg)
		}
	}
	if deg == s.Plan().OverSteepDeg {
		return nil
	}
	return s.do("change over-steep slope", "", s.Plan().SetOverSteep(deg))
}
