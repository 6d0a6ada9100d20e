package geodesy

import (
	"bytes"
	"encoding/binary"
	"math"
	"strings"
	"testing"
)

// A definition that names a file of shifts is served by it once it is supplied,
// inside its ground; until then, and elsewhere, its datum is unknown.
func TestDefinitionNamesAFile(t *testing.T) {
	s, err := Define("+proj=tmerc +lat_0=50 +lon_0=10 +k=1 +x_0=100000 +y_0=0 +ellps=bessel +nadgrids=@Made_Up.gsb")
	if err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{`/usr/share/proj/`, `C:\maps\`, `@../`} { // of one machine: no part of the grid
		if again, err := Define("+proj=tmerc +lat_0=50 +lon_0=10 +k=1 +x_0=100000 +y_0=0 +ellps=bessel +nadgrids=" + folder + "Made_Up.gsb"); again != s {
			t.Errorf("in the folder %s: got %v, %v, want %v", folder, again, err, s)
		}
	}
	inside, outside := DegLatLon(53.3, 11.4), DegLatLon(49, 10)
	if shift, err := s.ShiftHere(inside); err != nil || !shift.Unknown || !strings.Contains(shift.Name, "Made_Up.gsb") {
		t.Errorf("before: %+v, %v", shift, err)
	}
	n, err := ReadNTv2(bytes.NewReader(madeNTv2(binary.LittleEndian)))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(WithdrawShifts)
	serves, err := SupplyShiftFile("made_up.GSB", n)
	if err != nil || serves != "definitions that name made_up.GSB" {
		t.Fatalf("serves %q, %v", serves, err)
	}
	g, _, shift, err := s.FromWGS84(inside)
	if err != nil || shift.Unknown || !strings.Contains(shift.Name, "NTv2 file, MADE") {
		t.Errorf("supplied: %+v, %v", shift, err)
	}
	own, _ := n.Backward(inside)
	want, _, err := s.Project(own)
	if err != nil || distance(g, want) > 1e-9 {
		t.Errorf("got %v, want %v", g, want)
	}
	back, _, err := s.ToWGS84(g)
	if err != nil || math.Abs(back.Lat.Deg()-53.3) > 1e-10 || math.Abs(back.Lon.Deg()-11.4) > 1e-10 {
		t.Errorf("back: %v, %v", back, err)
	}
	if shift, err := s.ShiftHere(outside); err != nil || !shift.Unknown {
		t.Errorf("outside its ground: %+v, %v", shift, err)
	}
	WithdrawShifts()
	if shift, _ := s.ShiftHere(inside); !shift.Unknown {
		t.Errorf("withdrawn: %+v", shift)
	}
	n.to = "MOON"
	if _, err := SupplyShiftFile("x.gsb", n); err == nil {
		t.Error("a file that leads elsewhere is taken")
	}
}
