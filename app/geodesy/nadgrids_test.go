package geodesy

import (
	"strings"
	"testing"
)

const nadgridsTM = "+proj=tmerc +lat_0=50 +lon_0=10 +k=1 +x_0=100000 +y_0=0 "

// A definition that names a shift file has the shift stated beside it, or that of
// the published file's datum, or an unknown shift; its code has the same.
func TestDefinitionNamesAFile(t *testing.T) {
	t.Parallel()
	stated := "seven-parameter shift of the definition, accuracy not stated"
	unknown := "datum shift unknown (the definition names the file Made_Up.gsb for it; give +towgs84 instead)"
	for _, c := range []struct{ tail, shift string }{
		{"+ellps=bessel +nadgrids=@Made_Up.gsb", unknown},
		{"+ellps=bessel +nadgrids=/usr/share/proj/Made_Up.gsb,@null", unknown},
		{`+ellps=bessel +nadgrids=C:\maps\Made_Up.gsb`, unknown},
		{"+ellps=GRS80 +nadgrids=Made_Up.gsb", unknown},
		{"+ellps=GRS80 +nadgrids=Made_Up.gsb +towgs84=0,0,0", unknown},
		{"+ellps=bessel +nadgrids=Made_Up.gsb +towgs84=598.1,73.7,418.2,0.202,0.045,-2.455,6.7", stated},
		{"+ellps=bessel +nadgrids=@Made_Up.gsb,@BETA2007.gsb", "seven-parameter shift (BKG, western Germany)"},
		{"+ellps=intl +nadgrids=BETA2007.gsb", strings.Replace(unknown, "Made_Up", "BETA2007", 1)},
	} {
		s, err := Define(nadgridsTM + c.tail)
		if err != nil {
			t.Errorf("%s: %v", c.tail, err)
			continue
		}
		shift, err := s.ShiftHere(DegLatLon(53.3, 11.4))
		if err != nil || shift.Name != c.shift || shift.Unknown != strings.Contains(c.shift, "unknown") {
			t.Errorf("%s: got %+v, %v, want %s", c.tail, shift, err, c.shift)
		}
		again, err := Define(string(s.Code()))
		if err != nil || again.Code() != s.Code() {
			t.Errorf("%s: the code %s comes back as %v, %v", c.tail, s.Code(), again, err)
			continue
		}
		if back, err := again.ShiftHere(DegLatLon(53.3, 11.4)); err != nil || back != shift {
			t.Errorf("%s: its code has the shift %+v, %v", c.tail, back, err)
		}
	}
}
