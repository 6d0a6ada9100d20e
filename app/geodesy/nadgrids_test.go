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
	stated := "seven-parameter shift from the definition, which states no accuracy"
	unknown := "datum shift unknown (the definition takes the shift from the file Made_Up.gsb, which this program does not read; give +towgs84 instead)"
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

// A datum that contradicts the grid's keeps a definition from being taken for it:
// the British grid drawn with no shift lies some 100 m from the British grid on the
// ground. The latitudes of such a definition are marked as unknown.
func TestContradictingDatumIsAnotherGrid(t *testing.T) {
	t.Parallel()
	const british = "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +units=m "
	for _, c := range []struct {
		tail string
		same bool
	}{
		{"+ellps=airy", true},
		{"+ellps=airy +towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489", true},
		{"+ellps=airy +towgs84=0,0,0", false},
		{"+ellps=airy +towgs84=0,0,0,0,0,0,0", false},
		{"+ellps=airy +nadgrids=@null", false},
		{"+ellps=airy +towgs84=375,-111,431", false},
	} {
		s, err := Define(british + c.tail)
		if err != nil {
			t.Errorf("%s: %v", c.tail, err)
			continue
		}
		if got := s.EPSG() == epsgBritain; got != c.same {
			t.Errorf("%s: taken for the British grid %v, want %v", c.tail, got, c.same)
		}
		shift, err := s.ShiftHere(DegLatLon(57, -8))
		if unknown := strings.Contains(c.tail, "=0,") || strings.Contains(c.tail, "@null"); err != nil || shift.Unknown != unknown {
			t.Errorf("%s: got %+v, %v, want an unknown shift %v", c.tail, shift, err, unknown)
		}
		if again, err := Define(string(s.Code())); err != nil || again.Code() != s.Code() {
			t.Errorf("%s: the code %s comes back as %v, %v", c.tail, s.Code(), again, err)
		}
	}
	const named = `PROJCS["British",GEOGCS["G",DATUM["D",SPHEROID["Airy 1830",6377563.396,299.3249646]%s],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],` +
		`PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",49],PARAMETER["central_meridian",-2],PARAMETER["scale_factor",0.9996012717],` +
		`PARAMETER["false_easting",400000],PARAMETER["false_northing",-100000],UNIT["metre",1],AUTHORITY["EPSG","27700"]]`
	if s, err := Define(strings.Replace(named, "%s", ",TOWGS84[375,-111,431,0,0,0,0]", 1)); err == nil || !strings.Contains(err.Error(), "its datum differ") {
		t.Errorf("a code with another shift: got %v, %v, want a refusal", s, err)
	}
}
