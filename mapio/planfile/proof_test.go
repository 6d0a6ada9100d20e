package planfile

import (
	"strings"
	"testing"
)

// The word "proved" of a file is not believed beside another calibration, in a
// plan and in a journal alike.
func TestProvedIsNotBelievedAsWritten(t *testing.T) {
	t.Parallel()
	good := text(t, isle())
	for _, tc := range []struct{ name, old, new string }{
		{"a control point was moved", `"easting_m": 59000`, `"easting_m": 58000`},
		{"the place of the proof was moved", `"northing_m": 796948`, `"northing_m": 795948`},
		{"the place of the proof was left out", `"by": [`, `"because": [`},
	} {
		bad := strings.Replace(good, tc.old, tc.new, 1)
		if bad == good {
			t.Fatalf("%s: nothing to change", tc.name)
		}
		p, err := Decode(strings.NewReader(bad))
		if err != nil {
			t.Fatalf("%s: %v", tc.name, err)
		}
		s, _ := p.Sheet()
		if told := strings.Join(p.Mended, "\n"); s.Proof.Proved() || !strings.Contains(told, "isle.png, page 3 counts as unproved") {
			t.Errorf("%s: proof %+v, told %q", tc.name, s.Proof, p.Mended)
		}
		if again, err := Decode(strings.NewReader(text(t, p))); err != nil || again.Mended != nil {
			t.Errorf("%s: saved and read again: %v, told %v", tc.name, err, again.Mended)
		}
	}
	p, err := Decode(strings.NewReader(good))
	if err != nil {
		t.Fatal(err)
	}
	if s, _ := p.Sheet(); !s.Proof.Proved() || p.Mended != nil {
		t.Errorf("the sound plan: proof %+v, told %q", s.Proof, p.Mended)
	}
}
