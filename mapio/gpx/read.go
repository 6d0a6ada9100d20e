package gpx

import (
	"fmt"
	"io"
	"strings"

	lib "github.com/tkrajina/gpxgo/gpx"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
)

// Read reads GPX 1.0 or 1.1 in UTF-8, UTF-16 or an encoding that its XML
// declaration names. Waypoints become marks, routes routes, and every segment
// of a track a track. Heights and times are ignored. Errors: *BadPoint and
// those of this package.
func Read(r io.Reader) (*Document, error) {
	raw, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("the GPX file cannot be read: %w", err)
	}
	if len(raw) > MaxBytes {
		return nil, fmt.Errorf("%w: over %d MB", ErrTooLarge, MaxBytes>>20)
	}
	text, err := toUTF8(raw)
	if err != nil {
		return nil, err
	}
	reduced, err := reduce(text)
	if err != nil {
		return nil, err
	}
	g, err := lib.ParseBytes(reduced)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrBroken, err)
	}
	return document(g), nil
}

// document converts what the library read.
func document(g *lib.GPX) *Document {
	d := &Document{Title: g.Name, Desc: g.Description, Marks: taken(g.Waypoints)}
	for _, r := range g.Routes {
		d.Routes = append(d.Routes, Route{Name: r.Name, Desc: r.Description, Points: taken(r.Points), Escape: r.Source == escapeIn})
	}
	for _, t := range g.Tracks {
		for i, s := range t.Segments {
			name := t.Name
			if len(t.Segments) > 1 {
				name = strings.TrimSpace(fmt.Sprintf("%s part %d", t.Name, i+1))
			}
			d.Tracks = append(d.Tracks, Route{Name: name, Desc: t.Description, Points: taken(s.Points), Escape: t.Source == escapeIn})
		}
	}
	return d
}

// bare removes the cautions that this program wrote into a description: they are read
// from their codes, and would pile up with each export.
func bare(desc, stop string) string {
	desc = strings.TrimPrefix(strings.TrimPrefix(desc, stop), "; ")
	if strings.HasPrefix(desc, leg.CautionsIn) {
		return ""
	}
	desc, _, _ = strings.Cut(desc, "; "+leg.CautionsIn)
	return desc
}

func taken(list []lib.GPXPoint) []Point {
	var out []Point
	for _, p := range list {
		q := Point{Name: p.Name, Desc: p.Description, At: geodesy.DegLatLon(p.Latitude, p.Longitude)}
		if codes, ours := strings.CutPrefix(p.Source, cautionsIn); ours {
			q.Cautions, q.Desc = caution.Parse(codes), bare(p.Description, p.Comment)
		}
		out = append(out, q)
	}
	return out
}
