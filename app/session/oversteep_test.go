package session

import "testing"

// The over-steep slope is whole degrees from 10 to 45, nothing gives it back to the spacing of the
// terrain, what is neither is refused with the plan as it was, and Undo goes back.
func TestSetOverSteep(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	for text, want := range map[string]int{"22": 22, " 31° ": 31, "10": 10, "45 °": 45} {
		if err := s.SetOverSteep(text); err != nil || s.Plan().OverSteepDeg != want {
			t.Errorf("%q: %d, %v", text, s.Plan().OverSteepDeg, err)
		}
	}
	before := s.Plan()
	for _, text := range []string{"9", "46", "0", "-20", "22.5", "steep", "°20"} {
		if err := s.SetOverSteep(text); err == nil || s.Plan() != before {
			t.Errorf("%q: %d, %v", text, s.Plan().OverSteepDeg, err)
		}
	}
	if before.SetOverSteep(46).Validate() == nil || before.SetOverSteep(9).Validate() == nil || before.SetOverSteep(-1).Validate() == nil {
		t.Error("a plan with a slope beyond the bounds is valid")
	}
	if err := s.SetOverSteep(""); err != nil || s.Plan().OverSteepDeg != 0 {
		t.Errorf("nothing: %d, %v", s.Plan().OverSteepDeg, err)
	}
	s.Undo()
	if s.Plan() != before {
		t.Error("Undo does not give the slope back")
	}
}
