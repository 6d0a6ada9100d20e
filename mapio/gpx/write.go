package gpx

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	lib "github.com/tkrajina/gpxgo/gpx"

	"legwright/app/caution"
	"legwright/assets/release"
	"legwright/mapio/feature"
)

// Write writes the document as GPX 1.1, valid against the schema. Names are cut to
// the limit; no two positions share a name, nor do two routes or two tracks.
// Characters that XML forbids are left out; times are UTC. Errors: *BadPoint, and
// those of the writer.
func Write(w io.Writer, d *Document, o Options) error {
	if err := check(d); err != nil {
		return err
	}
	limit := o.NameLimit
	if limit <= 0 {
		limit = DefaultNameLimit
	}
	places, routes := newPlaced(newNamer(limit, o.Plain, pointNames(d)...)), newNamer(limit, o.Plain, routeNames(d.Routes)...)
	g := &lib.GPX{
		Version: "1.1", Creator: release.Program,
		Name: clean(d.Title), Description: clean(about(d)),
		Waypoints: points(d.Marks, places),
	}
	if !o.Time.IsZero() {
		t := o.Time.UTC()
		g.Time = &t
	}
	for _, r := range d.Routes {
		g.Routes = append(g.Routes, lib.GPXRoute{Name: heading(routes, r), Description: clean(r.Desc), Comment: clean(r.Stop), Source: sourceOf(r), Points: points(r.Points, places)})
	}
	g.Tracks = tracks(d, o, newNamer(limit, o.Plain, routeNames(slices.Concat(d.Routes, d.Tracks))...))
	text, err := g.ToXml(lib.ToXmlParams{Version: "1.1", Indent: true})
	if err != nil {
		return fmt.Errorf("gpx: %w", err)
	}
	text = bytes.Replace(text, []byte(noAuthor), nil, 1)
	text = append(text, '\n')
	if err := readsBack(text, d, o); err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// named are the points that have names: marks, and those of routes.
func named(d *Document) [][]Point {
	out := [][]Point{d.Marks}
	for _, r := range d.Routes {
		out = append(out, r.Points)
	}
	return out
}

func pointNames(d *Document) []string {
	var out []string
	for _, p := range slices.Concat(named(d)...) {
		out = append(out, clean(p.Name))
	}
	return out
}

func routeNames(list []Route) []string {
	out := make([]string, len(list))
	for i, r := range list {
		out[i] = clean(r.Name)
	}
	return out
}

// sourceOf is the src of a route or track.
func sourceOf(r Route) string {
	if r.Escape {
		return escapeIn
	}
	return ""
}

// noAuthor is the empty element that the library writes for a file without an author.
// Texts are escaped, so nothing else
// can read like it.
const noAuthor = "\t\t<author></author>\n"

// heading is the name of a route or track, which may have none.
func heading(names *namer, r Route) string {
	want := clean(r.Name)
	if strings.TrimSpace(want) == "" && r.Stop == "" {
		return ""
	}
	return names.name(want, clean(r.Stop), "")
}

// about is the description of the file: its stops, then that it is a planning aid.
func about(d *Document) string {
	parts := []string{after(d.Stop, feature.PlanningAid)}
	if !d.Date.IsZero() {
		parts = append(parts, "Planned for "+d.Date.UTC().Format("2 January 2006")+".")
	}
	if d.Desc != "" {
		parts = append(parts, d.Desc)
	}
	return strings.Join(parts, " ")
}

// tracks are those of the document and, if the option asks for it, the routes again.
func tracks(d *Document, o Options, names *namer) []lib.GPXTrack {
	var out []lib.GPXTrack
	add := func(r Route) {
		bare := points(r.Points, nil)
		out = append(out, lib.GPXTrack{
			Name: heading(names, r), Description: clean(r.Desc), Comment: clean(r.Stop), Source: sourceOf(r),
			Segments: []lib.GPXTrackSegment{{Points: bare}},
		})
	}
	for _, r := range d.Tracks {
		add(r)
	}
	if o.Track {
		for _, r := range d.Routes {
			add(r)
		}
	}
	return out
}

// points converts points for the library. Without names they stay nameless, as the
// points of a track are.
func points(list []Point, names *placed) []lib.GPXPoint {
	out := make([]lib.GPXPoint, len(list))
	for i, p := range list {
		q := &out[i]
		q.Latitude, q.Longitude = degrees(p.At.Lat.Deg()), degrees(p.At.Lon.Deg())
		if q.Longitude >= 180 { // the schema excludes 180
			q.Longitude -= 360
		}
		if names != nil {
			if len(p.Cautions) > 0 {
				q.Source = clean(cautionsIn + " " + caution.Format(p.Cautions))
			}
			q.Name, q.Description = names.name(clean(p.Name), clean(p.Stop), q.Latitude, q.Longitude), clean(p.Desc)
			q.Comment = clean(p.Stop)
		}
	}
	return out
}

// degrees rounds to a hundred-millionth of a degree, a millimetre.
func degrees(v float64) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'f', 8, 64), 64)
	return r
}

// check refuses points whose latitude or longitude does not exist.
func check(d *Document) error {
	n := 0
	one := func(list []Point) error {
		for _, p := range list {
			n++
			lat, lon := p.At.Lat.Deg(), p.At.Lon.Deg()
			if !(lat >= -90 && lat <= 90 && lon >= -180 && lon <= 180) {
				return &BadPoint{N: n, Lat: fmt.Sprint(lat), Lon: fmt.Sprint(lon)}
			}
		}
		return nil
	}
	if err := one(d.Marks); err != nil {
		return err
	}
	for _, r := range append(append([]Route{}, d.Routes...), d.Tracks...) {
		if err := one(r.Points); err != nil {
			return err
		}
	}
	return nil
}
