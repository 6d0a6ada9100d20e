package kml

import (
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// Overlay is a picture laid over the ground. Exactly one of Box and Quad is
// set, unless Problem says why neither can be used.
type Overlay struct {
	Name string
	// Href is the picture's link as it stands in the file; see Path.
	Href string
	Box  *Box
	Quad *[4]LatLon
	// Problem says what is wrong with where it lies, nil for nothing.
	Problem error
}

// Box is a box of latitude and longitude in degrees on WGS 84. South < North;
// West < East, which may be beyond 180 where the box crosses that meridian.
// Rotation turns the picture about the middle of the box, in degrees
// counterclockwise, −180 to 180.
type Box struct{ North, South, East, West, Rotation float64 }

// LatLon is a position in degrees on WGS 84.
type LatLon struct{ Lat, Lon float64 }

// Read reads the ground overlays of a document in its order. Those without a
// picture, which only colour the ground, are left out.
func Read(r io.Reader) ([]Overlay, error) {
	in := &counted{r: r}
	dec := xml.NewDecoder(plainText(in))
	dec.CharsetReader, dec.Entity = charset, xml.HTMLEntity
	p := parser{dec: dec}
	err := p.document()
	switch {
	case in.over:
		return nil, fmt.Errorf("%w: the document has more than %d MB", ErrTooLarge, MaxDocument>>20)
	case errors.Is(err, ErrTooLarge):
		return nil, err
	case err != nil && in.fault != nil:
		return nil, in.fault
	case err != nil:
		return nil, fmt.Errorf("%w: %w", ErrNotKML, inWords(err))
	case len(p.found) == 0:
		return nil, ErrNoOverlay
	}
	return p.found, nil
}

// counted reads at most MaxDocument bytes and keeps the reader's own error.
type counted struct {
	r     io.Reader
	n     int
	over  bool
	fault error
}

func (c *counted) Read(p []byte) (int, error) {
	if c.n > MaxDocument {
		c.over = true
		return 0, io.ErrUnexpectedEOF
	}
	n, err := c.r.Read(p)
	c.n += n
	if err != nil && err != io.EOF {
		c.fault = err
	}
	return n, err
}

// inWords says what is wrong with a document in words for people.
func inWords(err error) error {
	var bad *xml.SyntaxError
	switch {
	case errors.Is(err, io.EOF):
		return errors.New("it is empty or plain text")
	case !errors.As(err, &bad):
		return err
	case strings.Contains(bad.Msg, "unexpected EOF"):
		return fmt.Errorf("it is cut off in line %d: copy it again from the original", bad.Line)
	case strings.Contains(bad.Msg, "UTF-8"):
		return fmt.Errorf("line %d is not UTF-8: save it as UTF-8", bad.Line)
	}
	return fmt.Errorf("line %d is not well-formed XML (%s)", bad.Line, bad.Msg)
}

// plainText reads a document in UTF-16, which begins with a byte order mark, as
// UTF-8, and any other as it is.
func plainText(in io.Reader) io.Reader {
	r := bufio.NewReader(in)
	switch mark, _ := r.Peek(2); string(mark) {
	case "\xff\xfe", "\xfe\xff":
		return unicode.UTF16(unicode.BigEndian, unicode.ExpectBOM).NewDecoder().Reader(r)
	}
	return r
}

// charset reads the encodings of one byte a letter that old programs write.
func charset(label string, in io.Reader) (io.Reader, error) {
	switch strings.ToLower(label) {
	case "utf-8", "utf8", "us-ascii", "ascii":
		return in, nil
	case "utf-16", "utf16", "utf-16le", "utf-16be", "unicode": // plainText has seen to it
		return in, nil
	case "iso-8859-1", "latin1", "windows-1252", "cp1252":
		return charmap.Windows1252.NewDecoder().Reader(in), nil
	}
	return nil, fmt.Errorf("its encoding %.20q is not supported: save it as UTF-8", label)
}

const maxDepth = 100

type parser struct {
	dec   *xml.Decoder
	path  []string // names of the open elements
	text  strings.Builder
	now   *draft // the overlay that is open
	found []Overlay
}

// draft is an overlay as it is read.
type draft struct {
	Overlay
	depth  int // of its element
	edges  map[string]float64
	corner string // coordinates of the quadrilateral
}

func (p *parser) document() error {
	root := false
	for {
		t, err := p.dec.Token()
		if err == io.EOF && root {
			return nil
		}
		if err != nil {
			return err
		}
		switch t := t.(type) {
		case xml.StartElement:
			if !root && t.Name.Local != "kml" {
				return fmt.Errorf("it begins with <%.20s>, not with <kml>", t.Name.Local)
			}
			root = true
			if err := p.open(t.Name.Local); err != nil {
				return err
			}
		case xml.EndElement:
			if err := p.shut(); err != nil {
				return err
			}
		case xml.CharData:
			if p.now != nil && p.text.Len() < 4096 {
				p.text.Write(t)
			}
		}
	}
}

func (p *parser) open(name string) error {
	if len(p.path) >= maxDepth {
		return fmt.Errorf("%w: its elements are nested more than %d levels deep", ErrTooLarge, maxDepth)
	}
	p.path = append(p.path, name)
	p.text.Reset()
	if name == "GroundOverlay" && p.now == nil {
		p.now = &draft{depth: len(p.path), edges: map[string]float64{}}
	}
	return nil
}

func (p *parser) shut() error {
	name := p.path[len(p.path)-1]
	depth := len(p.path)
	p.path = p.path[:depth-1]
	text := strings.TrimSpace(p.text.String())
	p.text.Reset()
	d := p.now
	switch {
	case d == nil:
	case depth == d.depth:
		p.now = nil
		if d.Href == "" {
			return nil
		}
		if len(p.found) >= MaxOverlays {
			return fmt.Errorf("%w: it has more than %d overlays", ErrTooLarge, MaxOverlays)
		}
		p.found = append(p.found, d.done())
	case depth == d.depth+1 && name == "name":
		d.Name = text
	case depth == d.depth+2:
		d.take(p.path[depth-2], name, text)
	}
	return nil
}

// take takes a value of the overlay's icon, box or quadrilateral.
func (d *draft) take(of, name, text string) {
	switch {
	case of == "Icon" && name == "href":
		d.Href = text
	case of == "LatLonQuad" && name == "coordinates":
		d.corner = text
	case of == "LatLonBox":
		switch name {
		case "north", "south", "east", "west", "rotation":
			v, err := degrees(text)
			if err != nil && d.Problem == nil {
				d.Problem = fmt.Errorf("its %s: %w", name, err)
			}
			d.edges[name] = v
		}
	}
}

func degrees(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > 720 {
		return 0, fmt.Errorf("%.40q is not a number of degrees", text)
	}
	return v, nil
}

// done makes an overlay of what was read. The quadrilateral goes before a box
// beside it, which then only bounds it.
func (d *draft) done() Overlay {
	o := d.Overlay
	switch {
	case d.corner != "":
		var quad [4]LatLon
		if quad, o.Problem = corners(d.corner); o.Problem == nil {
			o.Quad = &quad
		}
	case o.Problem != nil:
	case len(d.edges) == 0:
		o.Problem = errors.New("it has neither a box nor a quadrilateral")
	default:
		var box Box
		if box, o.Problem = boxOf(d.edges); o.Problem == nil {
			o.Box = &box
		}
	}
	return o
}

func boxOf(edges map[string]float64) (Box, error) {
	for _, name := range []string{"north", "south", "east", "west"} {
		if _, ok := edges[name]; !ok {
			return Box{}, fmt.Errorf("its box has no %s", name)
		}
	}
	b := Box{edges["north"], edges["south"], edges["east"], edges["west"], edges["rotation"]}
	if b.East <= b.West { // across the meridian of 180°
		b.East += 360
	}
	switch {
	case !(b.North <= 90 && b.South >= -90 && b.South < b.North):
		return b, fmt.Errorf("its box cannot go from latitude %g° to %g°", b.South, b.North)
	case !(b.East-b.West <= 360):
		return b, fmt.Errorf("its box cannot go from longitude %g° to %g°", b.West, b.East)
	case !(math.Abs(b.Rotation) <= 360):
		return b, fmt.Errorf("its box cannot be turned by %g°", b.Rotation)
	}
	b.Rotation = math.Remainder(b.Rotation, 360)
	return b, nil
}

// corners reads the four corners of a quadrilateral: lower left, lower right,
// upper right, upper left of the picture.
func corners(text string) (q [4]LatLon, err error) {
	list := strings.Fields(text)
	if len(list) == 5 && list[4] == list[0] { // closed, as a ring is
		list = list[:4]
	}
	if len(list) != 4 {
		return q, fmt.Errorf("its quadrilateral has %d corners, not 4", len(list))
	}
	for i, c := range list {
		v := strings.Split(c, ",")
		if len(v) < 2 || len(v) > 3 {
			return q, fmt.Errorf("corner %d of its quadrilateral, %.40q, is not a longitude and a latitude", i+1, c)
		}
		lon, err := degrees(v[0])
		if err != nil {
			return q, fmt.Errorf("corner %d of its quadrilateral: %w", i+1, err)
		}
		lat, err := degrees(v[1])
		if err != nil {
			return q, fmt.Errorf("corner %d of its quadrilateral: %w", i+1, err)
		}
		if math.Abs(lat) > 90 {
			return q, fmt.Errorf("corner %d of its quadrilateral cannot have latitude %g°", i+1, lat)
		}
		q[i] = LatLon{lat, lon}
	}
	return q, nil
}
