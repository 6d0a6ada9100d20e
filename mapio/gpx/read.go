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
// of a track a track. Heights and times are ignored. The stop that this program put before a
// name goes: it comes again from the codes of the cautions. Errors: *BadPoint and those of this
// package.
func Read(r io.Reader) (*Document, error) {
	d, err := read(r)
	if err == nil {
		d.unmark()
	}
	return d, err
}

// unmark takes the stops off the names.
func (d *Document) unmark() {
	points := func(list []Point) {
		for i, p := range list {
			if p.Stop != "" {
				list[i].Name = unmarked(p.Name)
			}
		}
	}
	points(d.Marks)
	for _, list := range [][]Route{d.Routes, d.Tracks} {
		for i, r := range list {
			if r.Stop != "" {
				list[i].Name = unmarked(r.Name)
			}
			points(r.Points)
		}
	}
}

// read reads a file with its names as they stand there.
func read(r io.Reader) (*Document, error) {
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
		d.Routes = append(d.Routes, Route{Name: r.Name, Desc: r.Description, Stop: stopIn(r.Comment, r.Description), Points: taken(r.Points), Escape: r.Source == escapeIn})
	}
	for _, t := range g.Tracks {
		for i, s := range t.Segments {
			name := t.Name
			if len(t.Segments) > 1 {
				name = strings.TrimSpace(fmt.Sprintf("%s part %d", t.Name, i+1))
			}
			d.Tracks = append(d.Tracks, Route{Name: name, Desc: t.Description, Stop: stopIn(t.Comment, t.Description), Points: taken(s.Points), Escape: t.Source == escapeIn})
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

// stopIn is the stop that this program wrote as a comment and before a description, "" for none.
func stopIn(comment, desc string) string {
	if strings.HasPrefix(comment, "STOP: ") && strings.HasPrefix(desc, "STOP: ") {
		return comment
	}
	return ""
}

func taken(list []lib.GPXPoint) []Point {
	var out []Point
	for _, p := range list {
		q := Point{Name: p.Name, Desc: p.Description, At: geodesy.DegLatLon(p.Latitude, p.Longitude)}
		q.Stop = stopIn(p.Comment, p.Description)
		if codes, ours := strings.CutPrefix(p.Source, cautionsIn); ours {
			q.Stop = stopIn(p.Comment, p.Comment)
			q.Cautions, q.Desc = caution.Parse(codes), bare(p.Description, p.Comment)
		}
		out = append(out, q)
	}
	return out
}
