package session

import (
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
)

// A photograph is a photograph in the plan, the next picture is not, and two points
// of a photograph have a caution.
func TestPhotographed(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	must(t, s.AddSheet(Picture{Path: "/maps/photo.jpg", Width: 4000, Height: 3000, SHA256: shaOf("cd"), Medium: calib.Photograph}))
	if sheet, _ := s.Sheet(); !(sheet.Medium == calib.Photograph) {
		t.Error("the photograph is a scan")
	}
	for at, ref := range map[calib.PicturePt]string{at(400, 400): "51000 807000", at(3600, 2400): "59000 802000"} {
		_, err := s.AddControlPoint(at, ref)
		must(t, err)
	}
	c, err := s.Calibration()
	must(t, err)
	if !caution.Has(c.Cautions(), caution.PhotoNeedsFive) {
		t.Errorf("got %v, want a caution about two points", c.Cautions())
	}
	must(t, s.AddSheet(Picture{Path: "/maps/scan.png", Width: 2000, Height: 2000, SHA256: shaOf("ef")}))
	if sheet, _ := s.Sheet(); sheet.Medium == calib.Photograph {
		t.Error("the scan opened after it is a photograph")
	}
}
