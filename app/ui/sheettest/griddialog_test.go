package sheettest

import (
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/ui/ask"
	"legwright/app/ui/benchtest"
)

// A sheet on a grid by definition is calibrated, read and shown; the foot line
// marks latitude and longitude of an unknown datum.
func TestSheetOnADefinedGrid(t *testing.T) {
	b := benchtest.Opened(t)
	const prj = "PROJCS[\"Isle\",GEOGCS[\"Isle 1907\",DATUM[\"Isle_1907\",SPHEROID[\"Airy 1830\",6377563.396,299.3249646]],PRIMEM[\"Greenwich\",0],UNIT[\"degree\",0.0174532925199433]],\nPROJECTION[\"Transverse_Mercator\"],PARAMETER[\"latitude_of_origin\",57],PARAMETER[\"central_meridian\",-6],PARAMETER[\"scale_factor\",1],PARAMETER[\"false_easting\",10000],PARAMETER[\"false_northing\",20000],UNIT[\"metre\",1]]\n"
	sys, err := geodesy.Define(prj)
	if err != nil {
		t.Fatal(err)
	}
	b.Foot.Try(b.Session().SetGrid(sys.Code()), ask.GridChosen(sys.Code()))
	b.Sheets.Point(100, 200, "12000 23000")
	b.Sheets.Point(300, 200, "14000 23000")
	if n := b.Points(); n != 2 {
		t.Fatalf("%d control points, want 2: %s", n, b.Foot.Message())
	}
	b.Mouse.Hover(100.5, 199.3)
	if ref, latlon := b.Foot.Pointer().Ref, b.Foot.Pointer().LatLon; ref != "12000 23000" || !strings.Contains(latlon, "hundreds of m") {
		t.Errorf("the foot line says %q, %q", ref, latlon)
	}
}
