package pdf

import (
	"fmt"
)

// maxFrames is how many maps on one page are looked at.
const maxFrames = 64

// readViewports reads the viewports of a page that measure the ground (ISO
// 32000-2, tables 265 and 269).
func (d *dictionary) readViewports(o object) (frames []Frame, notes []string) {
	list, ok := d.array(o)
	if !ok {
		return nil, nil
	}
	for _, v := range list[:min(len(list), maxFrames)] {
		port, ok := d.dict(v)
		if !ok {
			continue
		}
		measure, ok := d.dict(port["Measure"])
		if !ok || d.name(measure["Subtype"]) != "GEO" {
			continue // a ruler in paper units places nothing
		}
		f, err := d.readViewport(port, measure)
		if err != nil {
			notes = append(notes, "a viewport of the PDF cannot be used: "+err.Error())
			continue
		}
		frames = append(frames, f)
	}
	return frames, notes
}

func (d *dictionary) readViewport(port, measure dictObject) (Frame, error) {
	f := Frame{Kind: Viewport, Degrees: true}
	box, ok := d.numbers(port["BBox"])
	if !ok || len(box) != 4 || box[0] == box[2] || box[1] == box[3] {
		return f, fmt.Errorf("its BBox is not a rectangle")
	}
	ground, ok := d.numbers(measure["GPTS"])
	if !ok || len(ground) < 6 || len(ground)%2 != 0 {
		return f, fmt.Errorf("its GPTS are not three or more pairs of latitude and longitude")
	}
	local := []float64{0, 0, 0, 1, 1, 1, 1, 0}
	if o, given := measure["LPTS"]; given {
		if local, ok = d.numbers(o); !ok {
			return f, fmt.Errorf("its LPTS are not numbers")
		}
	}
	if len(local) != len(ground) {
		return f, fmt.Errorf("it has %d numbers in GPTS, but %d in LPTS", len(ground), len(local))
	}
	// BBox runs from the corner that is (0, 0) of the unit square to the one
	// that is (1, 1), whichever way that is (table 265).
	at := func(u, v float64) (x, y float64) { return box[0] + u*(box[2]-box[0]), box[1] + v*(box[3]-box[1]) }
	for i := 0; i < len(ground); i += 2 {
		lat, lon := ground[i], ground[i+1]
		if lat < -90 || lat > 90 || lon < -360 || lon > 360 {
			return f, fmt.Errorf("latitude %g, longitude %g in its GPTS is not a position", lat, lon)
		}
		x, y := at(local[i], local[i+1])
		f.Points = append(f.Points, Point{X: x, Y: y, East: lon, North: lat})
	}
	for _, c := range [][2]float64{{0, 0}, {0, 1}, {1, 1}, {1, 0}} {
		x, y := at(c[0], c[1])
		f.Outline = append(f.Outline, [2]float64{x, y})
	}
	d.readGCS(measure["GCS"], &f)
	return f, nil
}

// readGCS reads a coordinate system dictionary (ISO 32000-2, tables 270 and
// 271).
func (d *dictionary) readGCS(o object, f *Frame) {
	gcs, ok := d.dict(o)
	if !ok {
		f.Notes = append(f.Notes, "the PDF gives the map's position by latitude and longitude, but names neither grid nor datum")
		return
	}
	if code, ok := d.number(gcs["EPSG"]); ok && code >= 1 && code <= 999_999 {
		f.EPSG = int(code)
	}
	f.Definition, _ = d.text(gcs["WKT"])
}
