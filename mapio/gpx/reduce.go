package gpx

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// reducer goes once through a file and writes a smaller one of the same shape:
// GPX 1.1 with names, descriptions and sources only, every number checked.
type reducer struct {
	dec      *xml.Decoder
	out      bytes.Buffer
	path     []string // the open elements by local name
	points   int
	text     strings.Builder
	skipping int // depth within an element that is skipped
}

// reduce returns the reduced file.
func reduce(text []byte) ([]byte, error) {
	r := &reducer{dec: xml.NewDecoder(bytes.NewReader(text))}
	r.dec.Strict = true
	r.dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // it is UTF-8 by now
	for {
		tok, err := r.dec.RawToken()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, r.fault(err)
		}
		if err := r.take(tok); err != nil {
			return nil, err
		}
	}
	if len(r.path) > 0 {
		return nil, ErrCutOff
	}
	if r.out.Len() == 0 {
		return nil, ErrNotGPX
	}
	return r.out.Bytes(), nil
}

// fault turns an error of the decoder into one of this package.
func (r *reducer) fault(err error) error {
	var syntax *xml.SyntaxError
	switch {
	case r.out.Len() == 0:
		return ErrNotGPX
	case errors.As(err, &syntax) && strings.Contains(syntax.Msg, "unexpected EOF"):
		return ErrCutOff
	case errors.As(err, &syntax):
		if strings.Contains(syntax.Msg, "entity") {
			return ErrUnsafe
		}
		return fmt.Errorf("%w: line %d: %s", ErrBroken, syntax.Line, syntax.Msg)
	}
	return fmt.Errorf("%w: %w", ErrBroken, err)
}

func (r *reducer) take(tok xml.Token) error {
	switch t := tok.(type) {
	case xml.Directive:
		return ErrUnsafe
	case xml.StartElement:
		return r.begin(t)
	case xml.EndElement:
		return r.end(t.Name.Local)
	case xml.CharData:
		if r.skipping == 0 {
			r.text.Write(t)
		}
	}
	return nil
}

// kept reports whether an element is needed below its parent.
func kept(name, parent string) bool {
	switch name {
	case "metadata", "wpt", "rte", "trk":
		return parent == "gpx"
	case "rtept":
		return parent == "rte"
	case "trkseg":
		return parent == "trk"
	case "trkpt":
		return parent == "trkseg"
	case "name", "desc":
		return parent == "gpx" || parent == "metadata" || parent == "rte" || parent == "trk" || isPoint(parent)
	case "src":
		return parent == "rte" || parent == "trk" || isPoint(parent)
	case "cmt":
		return isPoint(parent)
	}
	return false
}

func isPoint(name string) bool { return name == "wpt" || name == "rtept" || name == "trkpt" }

func isText(name string) bool {
	return name == "name" || name == "desc" || name == "src" || name == "cmt"
}

func (r *reducer) parent() string {
	if len(r.path) == 0 {
		return ""
	}
	return r.path[len(r.path)-1]
}

func (r *reducer) begin(t xml.StartElement) error {
	name := t.Name.Local
	parent := r.parent()
	r.path = append(r.path, name)
	switch {
	case len(r.path) > maxDepth:
		return fmt.Errorf("%w: elements are nested deeper than %d", ErrBroken, maxDepth)
	case r.skipping > 0:
		r.skipping++
	case len(r.path) == 1:
		return r.root(name)
	case !kept(name, parent):
		r.skipping = 1
	case isPoint(name):
		return r.point(name, t.Attr)
	case isText(name):
		r.text.Reset()
	default:
		r.out.WriteString("<" + name + ">")
	}
	return nil
}

func (r *reducer) root(name string) error {
	if name != "gpx" || r.out.Len() > 0 {
		return ErrNotGPX
	}
	r.out.WriteString(`<gpx version="1.1" creator="" xmlns="http://www.topografix.com/GPX/1/1">`)
	return nil
}

// point checks and writes the position of a point.
func (r *reducer) point(name string, attrs []xml.Attr) error {
	r.points++
	if r.points > MaxPoints {
		return fmt.Errorf("%w: over %d points; split the track, or delete some of its points", ErrTooLarge, MaxPoints)
	}
	var lat, lon string
	for _, a := range attrs {
		switch a.Name.Local {
		case "lat":
			lat = strings.TrimSpace(a.Value)
		case "lon":
			lon = strings.TrimSpace(a.Value)
		}
	}
	la, ok1 := within(lat, 90)
	lo, ok2 := within(lon, 180)
	if !ok1 || !ok2 {
		return &BadPoint{N: r.points, Lat: lat, Lon: lon}
	}
	fmt.Fprintf(&r.out, `<%s lat="%s" lon="%s">`, name, number(la), number(lo))
	return nil
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func within(text string, limit float64) (float64, bool) {
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil && math.Abs(v) <= limit
}

func (r *reducer) end(name string) error {
	if r.parent() != name {
		return fmt.Errorf("%w: </%s> has no beginning", ErrBroken, name)
	}
	r.path = r.path[:len(r.path)-1]
	switch {
	case r.skipping > 0:
		r.skipping--
	case isText(name) && r.parent() == "gpx": // GPX 1.0 has them here
		r.out.WriteString("<metadata>")
		r.write(name, r.text.String())
		r.out.WriteString("</metadata>")
	case isText(name):
		r.write(name, r.text.String())
	default:
		r.out.WriteString("</" + name + ">")
	}
	return nil
}

func (r *reducer) write(name, text string) {
	r.out.WriteString("<" + name + ">")
	_ = xml.EscapeText(&r.out, []byte(clean(strings.TrimSpace(text)))) // a buffer does not fail
	r.out.WriteString("</" + name + ">")
}
