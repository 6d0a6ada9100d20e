package ui

import (
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/ui/ask"
)

// A sheet on a grid by definition is calibrated, read and shown; the foot line
// marks latitude and longitude of an unknown datum.
func TestSheetOnADefinedGrid(t *testing.T) {
	b := opened(t)
	const prj = "PROJCS[\"Isle\",GEOGCS[\"Isle 1907\",DATUM[\"Isle_1907\",SPHEROID[\"Airy 1830\",6377563.396,299.3249646]],PRIMEM[\"Greenwich\",0],UNIT[\"degree\",0.0174532925199433]],\nPROJECTION[\"Transverse_Mercator\"],PARAMETER[\"latitude_of_origin\",57],PARAMETER[\"central_meridian\",-6],PARAMETER[\"scale_factor\",1],PARAMETER[\"false_easting\",10000],PARAMETER[\"false_northing\",20000],UNIT[\"metre\",1]]\n"
	sys, err := geodesy.Define(prj)
	if err != nil {
		t.Fatal(err)
	}
	b.foot.Try(b.s.SetGrid(sys.Code()), ask.GridChosen(sys.Code()))
	point(b, 100, 200, "12000 23000")
	point(b, 300, 200, "14000 23000")
	if n := points(b); n != 2 {
		t.Fatalf("%d control points, want 2: %s", n, b.foot.Message())
	}
	hoverAt(b, picAt(100.5, 199.3))
	if ref, latlon := b.foot.Pointer().Ref, b.foot.Pointer().LatLon; ref != "12000 23000" || !strings.Contains(latlon, "hundreds of m") {
		t.Errorf("the foot line says %q, %q", ref, latlon)
	}
}
