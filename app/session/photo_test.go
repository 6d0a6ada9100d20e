package session

import (
	"testing"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/plan"
)

// What is told of a picture goes with the next one that is opened and no
// further, and two points of a photograph have a caution.
func TestPhotographed(t *testing.T) {
	t.Parallel()
	s, _, _ := bench(t)
	s.OpensAs(calib.Photograph, 0)
	must(t, s.AddSheet("/maps/photo.jpg", plan.Page{}, 4000, 3000, shaOf("cd"), 0))
	if sheet, _ := s.Sheet(); !(sheet.Medium == calib.Photograph) {
		t.Error("the photograph is a scan")
	}
	for at, ref := range map[calib.PicturePt]string{at(400, 400): "51000 807000", at(3600, 2400): "59000 802000"} {
		_, err := s.AddControlPoint(at, ref)
		must(t, err)
	}
	c, err := s.Calibration()
	must(t, err)
	if !caution.Has(c.Cautions(), caution.PhotoNeedsFour) {
		t.Errorf("got %v, want a caution about two points", c.Cautions())
	}
	must(t, s.AddSheet("/maps/scan.png", plan.Page{}, 2000, 2000, shaOf("ef"), 0))
	if sheet, _ := s.Sheet(); sheet.Medium == calib.Photograph {
		t.Error("the scan opened after it is a photograph")
	}
}
