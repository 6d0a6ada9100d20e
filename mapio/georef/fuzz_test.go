package georef

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"legwright/app/calib"
	"legwright/mapio/scan"
)

// FuzzWorld: what is accepted is finite and has an area, as shown too.
func FuzzWorld(f *testing.F) {
	f.Add("2.5\n0\n0\n-2.5\n400001.25\n799998.75\n", 6)
	f.Add("2,5 0 0 -2,5 1 1", 1)
	f.Add("1e300 NaN 0x1p-3 Inf 1_0 5", 8)
	f.Fuzz(func(t *testing.T, data string, o int) {
		w, err := ParseWorld(bytes.NewReader([]byte(data)))
		if err != nil {
			return
		}
		h := scan.Header{Width: 1000, Height: 700, Orientation: min(max(1, o), 8)}
		if h.Orientation >= 5 {
			h.Width, h.Height = h.Height, h.Width
		}
		s := w.shown(h)
		for i, v := range s.Matrix() {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("figure %d is %g", i, v)
			}
		}
		if det := s.A*s.E - s.B*s.D; det == 0 || math.IsNaN(det) {
			t.Errorf("area %g", det)
		}
	})
}

// FuzzPrj: a .prj beside a world file gives a grid and a finite position, or a
// sentence that names the file.
func FuzzPrj(f *testing.F) {
	f.Add("+proj=utm +zone=33 +datum=WGS84 +units=m")
	f.Add(`PROJCS["x",GEOGCS["GCS_OSGB_1936",DATUM["D_OSGB_1936",SPHEROID["Airy_1830",6377563.396,299.3249646]],PRIMEM["Greenwich",0.0],` +
		`UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",400000.0],PARAMETER["False_Northing",-100000.0],` +
		`PARAMETER["Central_Meridian",-2.0],PARAMETER["Scale_Factor",0.9996012717],PARAMETER["Latitude_Of_Origin",49.0],UNIT["Foot_US",0.3048006096012192]]`)
	f.Add("\ufeffEPSG:27700\r\n")
	f.Add("GEOGCS[[[[")
	h := scan.Header{Format: "PNG", Width: 60, Height: 40, Orientation: 1}
	f.Fuzz(func(t *testing.T, text string) {
		fsys := fstest.MapFS{"m.pgw": {Data: []byte("5 0 0 -5 250000 720000")}, "m.prj": {Data: []byte(text)}}
		p := Find(scan.GeoData{Header: h, Folder: fsys, Name: "m.png"}).Georeference
		switch {
		case p == nil:
			t.Error("no position with a .prj beside the world file")
		case p.System == nil:
			if p.Matrix != nil || !strings.HasPrefix(p.Unknown, "m.prj: ") || len(p.Unknown) < 10 {
				t.Errorf("got %+v, want a sentence", p)
			}
		default:
			for _, v := range p.Matrix {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%q gives %v", text, *p.Matrix)
				}
			}
		}
	})
}

// FuzzOverlay: whatever a KML file says, its picture is placed finitely or a
// sentence says why not.
func FuzzOverlay(f *testing.F) {
	f.Add(boxKML(63.08, 63, 13.25, 13, 12))
	f.Add(quadKML(15.00, 60.00, 15.02, 60.00, 15.018, 60.012, 15.004, 60.010))
	f.Add(boxKML(90, 89, 180, -180, 0))
	pic := pngOf(f, ramp(60, 40, 2))
	f.Fuzz(func(t *testing.T, where string) {
		fsys := fstest.MapFS{"s.png": {Data: pic}, "a.kml": {Data: []byte(kmlHead + overlayKML("s.png", where) + kmlFoot)}}
		h, p, err := look(fsys, "a.kml", scan.Options{})
		if err != nil {
			return
		}
		if p == nil || p.System == nil && p.Unknown == "" {
			t.Fatalf("%s: got %+v, want a position or why not", where, p)
		}
		if p.System == nil {
			return
		}
		fit, err := p.Calibration(h)
		if err != nil {
			t.Fatalf("%s: %v", where, err)
		}
		g := fit.ToGrid(calib.PicturePt{Col: 30, Row: 20})
		if v := g.E + g.N + p.SigmaM; math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%s: the middle lies at %v ± %g", where, g, p.SigmaM)
		}
	})
}
