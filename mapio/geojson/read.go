package geojson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
)

// Limits on what is read.
const (
	MaxBytes  = 16 << 20 // size of the file
	MaxPoints = 20_000   // positions of all shapes together
	maxDepth  = 8        // collections within collections
)

// The kinds of failure. Errors of this package wrap one of them, or are a *BadPosition.
var (
	// ErrNotGeoJSON: the content is something else.
	ErrNotGeoJSON = errors.New("this is not a GeoJSON file")
	// ErrTooLarge: more than the limits allow.
	ErrTooLarge = errors.New("the GeoJSON file is too large")
	// ErrOtherGrid: the file has a coordinate system of its own that is not CRS84.
	ErrOtherGrid = errors.New("the GeoJSON file has a “crs” that is not longitude before latitude on WGS 84: export it again as RFC 7946 requires, without “crs”")
)

// BadPosition is returned for a position that cannot be. N counts from 1 over all
// positions of the file.
type BadPosition struct {
	N    int
	Text string
}

func (e *BadPosition) Error() string {
	return fmt.Sprintf("position %d is %s: it must be a longitude from −180 to 180 and a latitude from −90 to 90", e.N, e.Text)
}

// Kind says what a shape is.
type Kind int

// The kinds of shapes.
const (
	Point Kind = iota
	Line
	Area
)

// Shape is a point, a line or an area of the file.
type Shape struct {
	Kind   Kind
	Name   string
	Points []geodesy.LatLon // around an area, without the first one again at the end; of our own with its holes, joined by slits
	Holes  int              // of an area: left out of Points, so that the whole area counts
	Own    Own              // what this program wrote of it; zero for a shape of other origin

	holes []json.RawMessage
}

// Own is what a feature that this program wrote says of itself. Nothing in it softens anything
// but Cross, which whoever imports it has to name: an unknown caution is a stop.
type Own struct {
	Thing string  // "mark", "leg" and so on, "" for a shape of other origin
	Sort  string  // what a hazard, haven, line or area is
	Note  string  // the person's own
	KeepM float64 // of a hazard
	Cross string  // how water is crossed, in the file's word

	From, To                 string            // of a leg: the names of its ends
	FromCautions, ToCautions []caution.Caution // against these, and for others both against all of it
}

// object is any object of GeoJSON.
type object struct {
	Type        string          `json:"type"`
	CRS         json.RawMessage `json:"crs"`
	Features    []object        `json:"features"`
	Geometry    *object         `json:"geometry"`
	Geometries  []object        `json:"geometries"`
	Coordinates json.RawMessage `json:"coordinates"`
	Properties  map[string]any  `json:"properties"`
}

// Read reads the shapes of a file, in their order.
func Read(r io.Reader) ([]Shape, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("the GeoJSON file cannot be read: %w", err)
	}
	if len(text) > MaxBytes {
		return nil, fmt.Errorf("%w: over %d MB", ErrTooLarge, MaxBytes>>20)
	}
	var o object
	if err := json.Unmarshal(bytes.TrimPrefix(text, []byte("\ufeff")), &o); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNotGeoJSON, err)
	}
	x := &reading{}
	if err := x.object(o, "", 0); err != nil {
		return nil, err
	}
	return x.shapes, nil
}

// reading is what was read so far.
type reading struct {
	shapes []Shape
	n      int // positions
}

func (x *reading) object(o object, name string, depth int) error {
	if depth > maxDepth {
		return fmt.Errorf("%w: its collections are nested too deeply", ErrNotGeoJSON)
	}
	if len(o.CRS) > 0 && !isCRS84(o.CRS) {
		return ErrOtherGrid
	}
	switch o.Type {
	case "FeatureCollection":
		return x.all(o.Features, name, depth)
	case "Feature":
		if o.Geometry == nil {
			return nil // a feature without a place
		}
		if text, ok := o.Properties["name"].(string); ok {
			name = text
		}
		first := len(x.shapes)
		err := x.object(*o.Geometry, name, depth+1)
		for i := first; i < len(x.shapes) && err == nil; i++ {
			s := &x.shapes[i]
			if s.Own = ownOf(o.Properties); s.Own.Thing != "" {
				runs, _ := o.Properties[ringsKey].(string)
				err = x.join(s, runs)
			}
		}
		return err
	case "GeometryCollection":
		return x.all(o.Geometries, name, depth)
	}
	return x.geometry(o, name)
}

// ownOf reads the properties that Write wrote.
func ownOf(properties map[string]any) Own {
	text := func(key string) string { t, _ := properties[key].(string); return t }
	own := Own{Thing: text(thingKey)}
	if own.Thing == "" {
		return own
	}
	keep, _ := properties[keepKey].(float64)
	against := caution.Parse(text(cautKey))
	own.Sort, own.Note, own.KeepM, own.Cross = text(sortKey), text(noteKey), keep, text(crossKey)
	own.From, own.To = text(fromKey), text(toKey)
	own.FromCautions = append(slices.Clone(against), caution.Parse(text(fromKey+"_"+cautKey))...)
	own.ToCautions = append(slices.Clone(against), caution.Parse(text(toKey+"_"+cautKey))...)
	return own
}

// isCRS84 reports whether a coordinate system by name, as GeoJSON had it in 2008 (section 3), is that
// of RFC 7946. EPSG:4326 is not: by its definition latitude comes first, and nobody sees which
// order a file has. null says that nothing can be assumed.
func isCRS84(raw json.RawMessage) bool {
	var crs struct {
		Type       string
		Properties struct{ Name string }
	}
	if json.Unmarshal(raw, &crs) != nil || crs.Type != "name" {
		return false
	}
	name, urn := strings.CutPrefix(crs.Properties.Name, "urn:ogc:def:crs:OGC:")
	if !urn {
		return name == "OGC:CRS84" || name == "CRS84"
	}
	return slices.Contains([]string{":CRS84", "1.3:CRS84"}, name)
}

func (x *reading) all(list []object, name string, depth int) error {
	for _, o := range list {
		if err := x.object(o, name, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// geometry adds the shapes of one geometry.
func (x *reading) geometry(o object, name string) error {
	kind, multi := Point, strings.HasPrefix(o.Type, "Multi")
	switch strings.TrimPrefix(o.Type, "Multi") {
	case "Point":
	case "LineString":
		kind = Line
	case "Polygon":
		kind = Area
	default:
		return fmt.Errorf("%w: it has a part of type %q", ErrNotGeoJSON, o.Type)
	}
	parts := []json.RawMessage{o.Coordinates}
	if multi {
		parts = nil
		if err := json.Unmarshal(o.Coordinates, &parts); err != nil {
			return fmt.Errorf("%w: %w", ErrNotGeoJSON, err)
		}
	}
	for _, part := range parts {
		if err := x.shape(kind, name, part); err != nil {
			return err
		}
	}
	return nil
}

// shape adds one shape.
func (x *reading) shape(kind Kind, name string, part json.RawMessage) (err error) {
	s := Shape{Kind: kind, Name: name}
	switch kind {
	case Point:
		s.Points, err = x.line([]byte("[" + string(part) + "]"))
	case Line:
		s.Points, err = x.line(part)
	case Area:
		var rings []json.RawMessage
		if err := json.Unmarshal(part, &rings); err != nil || len(rings) == 0 {
			return fmt.Errorf("%w: an area has no outline", ErrNotGeoJSON)
		}
		s.Holes, s.holes = len(rings)-1, rings[1:]
		s.Points, err = x.ring(rings[0])
	}
	if err == nil {
		x.shapes = append(x.shapes, s)
	}
	return err
}

// line reads a list of positions.
func (x *reading) line(text []byte) ([]geodesy.LatLon, error) {
	var list []json.RawMessage
	if err := json.Unmarshal(text, &list); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNotGeoJSON, err)
	}
	if x.n+len(list) > MaxPoints {
		return nil, fmt.Errorf("%w: over %d positions", ErrTooLarge, MaxPoints)
	}
	out := make([]geodesy.LatLon, len(list))
	for i, raw := range list {
		x.n++
		var p []*float64 // a missing number must not become 0
		err := json.Unmarshal(raw, &p)
		if err != nil || len(p) < 2 || p[0] == nil || p[1] == nil || !(*p[0] >= -180 && *p[0] <= 180 && *p[1] >= -90 && *p[1] <= 90) {
			return nil, &BadPosition{x.n, shortened(raw)}
		}
		out[i] = geodesy.DegLatLon(*p[1], *p[0])
	}
	return out, nil
}

// shortened is the beginning of a text, for a sentence.
func shortened(raw []byte) string {
	const most = 40
	if r := []rune(string(raw)); len(r) > most {
		return string(r[:most]) + "…"
	}
	return string(raw)
}
