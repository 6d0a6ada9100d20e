package geojson

import (
	"encoding/json"
	"io"
	"math"
	"slices"
	"time"

	"github.com/peterstace/simplefeatures/geom"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/mapio/feature"
)

// The properties of a feature by which Read knows our own features again. Heights are properties
// too: positions have two numbers.
const (
	thingKey = "legwright" // the kind of thing, such as "hazard"
	sortKey  = "kind"      // what a hazard, haven, line or area is
	noteKey  = "note"
	keepKey  = "keep_m"
	crossKey = "crossing" // of water, such as "ford"
	fromKey  = "from"     // of a leg: the names of its ends
	toKey    = "to"
	cautKey  = "cautions" // codes, as caution.Format writes them
)

// Write writes features as RFC 7946 has them: a collection, longitude before latitude on WGS 84,
// outlines counterclockwise, rounded to a hundred-millionth of a degree. What speaks against the
// whole stands in the collection's member "description" and in the property "about" of each feature,
// for many programs keep the properties alone. Errors
// are those of the writer.
func Write(w io.Writer, d *feature.Document) error {
	out := struct {
		Type        string                `json:"type"`
		Name        string                `json:"name"`
		Description string                `json:"description"`
		Date        string                `json:"date,omitempty"`
		Features    []geom.GeoJSONFeature `json:"features"`
	}{Type: "FeatureCollection", Name: d.Title, Description: d.About()}
	if !d.Date.IsZero() {
		out.Date = d.Date.Format(time.DateOnly)
	}
	for _, f := range d.Features {
		shape, runs := geometry(f)
		about := properties(f, d)
		if runs != "" {
			about[ringsKey] = runs
		}
		out.Features = append(out.Features, geom.GeoJSONFeature{Geometry: shape, Properties: about})
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(out)
}

// geometry is the shape of a feature, and how the outline of an area with holes goes round them.
func geometry(f feature.Feature) (shape geom.Geometry, runs string) {
	switch {
	case f.Closed:
		return area(f)
	case len(f.Points) == 1:
		xy := degrees(f.Points)
		return geom.NewPointXY(xy[0], xy[1]).AsGeometry(), ""
	}
	return geom.NewLineStringXY(degrees(f.Points)...).AsGeometry(), ""
}

// area is the shape of an area, its border counterclockwise and its holes clockwise.
func area(f feature.Feature) (geom.Geometry, string) {
	p, on := polygon(f)
	if on != nil && !p.IsCCW() { // turned here, so that runs speak of the rings as they are written
		f.Points = slices.Clone(f.Points)
		slices.Reverse(f.Points[1:])
		p, on = polygon(f)
	}
	return p.ForceCCW().AsGeometry(), runsOf(on)
}

func polygon(f feature.Feature) (geom.Polygon, []int) {
	rings, on := f.Rings()
	around := make([][]float64, len(rings))
	for i, ring := range rings {
		around[i] = degrees(append(slices.Clip(ring), ring[0]))
	}
	return geom.NewPolygonXY(around...), on
}

// degrees are the longitudes and latitudes of positions.
func degrees(points []feature.Point) (xy []float64) {
	for _, p := range points {
		xy = append(xy, rounded(p.At.Lon.Deg()), rounded(p.At.Lat.Deg()))
	}
	return xy
}

// rounded is a number of degrees to a millimetre.
func rounded(deg float64) float64 { return math.Round(deg*1e8) / 1e8 }

// properties say what a feature is, in words and for Read.
func properties(f feature.Feature, d *feature.Document) map[string]any {
	out := map[string]any{thingKey: f.Kind.Word(), "name": f.Name, "description": f.Text, "about": d.Whole}
	put := func(key, text string) {
		if text != "" {
			out[key] = text
		}
	}
	put(sortKey, f.Sort)
	put(noteKey, f.Note)
	put("stop", f.Stop)
	if f.Kind == plan.OfHazard {
		out[keepKey] = f.KeepM
		put(crossKey, f.Cross)
	}
	height := func(key string, p feature.Point) {
		if !math.IsNaN(p.HeightM) {
			out[key] = math.Round(10*p.HeightM) / 10
		}
	}
	if f.Kind == plan.OfLeg {
		from, to := f.Points[0], f.Points[1]
		put(fromKey, from.Name)
		put(toKey, to.Name)
		height("from_height_m", from)
		height("to_height_m", to)
		put(fromKey+"_"+cautKey, caution.Format(from.Lasting))
		put(toKey+"_"+cautKey, caution.Format(to.Lasting))
		return out
	}
	height("height_m", f.Points[0])
	put(cautKey, caution.Format(f.Lasting()))
	return out
}
