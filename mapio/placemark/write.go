package placemark

import (
	"encoding/xml"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"legwright/app/plan"
	"legwright/mapio/feature"
)

type (
	document struct {
		// the namespace of KML 2.2 (OGC 07-147r2)
		XMLName xml.Name `xml:"http://www.opengis.net/kml/2.2 kml"`
		Name    string   `xml:"Document>name"`
		About   string   `xml:"Document>description"`
		Styles  []style  `xml:"Document>Style"`
		Folders []folder `xml:"Document>Folder"`
	}
	style struct {
		ID   string `xml:"id,attr"`
		Line paint  `xml:"LineStyle"`
		Poly paint  `xml:"PolyStyle"`
	}
	paint struct {
		Color string  `xml:"color"` // aabbggrr
		Width float64 `xml:"width,omitempty"`
	}
	folder struct {
		Name   string      `xml:"name"`
		Placed []placemark `xml:"Placemark"`
	}
	placemark struct {
		Name  string       `xml:"name"`
		Text  string       `xml:"description"`
		Style string       `xml:"styleUrl"`
		Point *coordinates `xml:"Point"`
		Line  *line        `xml:"LineString"`
		Area  *area        `xml:"Polygon"`
	}
	area struct {
		Border boundary   `xml:"outerBoundaryIs"`
		Holes  []boundary `xml:"innerBoundaryIs"`
	}
	boundary struct {
		Ring coordinates `xml:"LinearRing"`
	}
	coordinates struct {
		Text string `xml:"coordinates"`
	}
	line struct {
		Tessellate int    `xml:"tessellate"`
		Text       string `xml:"coordinates"`
	}
)

// Write writes features as KML 2.2, a folder for each kind of thing. Heights are left to the
// ground that a program shows. The description of the file and of each feature begins with its
// stops, and the name of a feature with STOP where it has one: lists show names alone. Errors
// are those of the writer.
func Write(w io.Writer, d *feature.Document) error {
	out := document{Name: clean(d.Title), About: clean(d.About())}
	for _, k := range plan.Kinds() {
		f := folder{Name: k.Many}
		for _, x := range d.Features {
			if x.Kind == k.Kind {
				f.Placed = append(f.Placed, placed(x))
			}
		}
		if len(f.Placed) > 0 {
			out.Styles = append(out.Styles, styleOf(k))
			out.Folders = append(out.Folders, f)
		}
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", " ")
	if err := e.Encode(out); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

// styleOf is how things of a kind are drawn, in colours that colour-blind people tell apart
// (the palette of Okabe and Ito).
func styleOf(k plan.KindInfo) style {
	color, width := "ff000000", 2.0
	switch k.Kind {
	case plan.OfLeg:
		color, width = "ffb27200", 4
	case plan.OfEscape:
		color, width = "ff739e00", 3
	case plan.OfHazard:
		color = "ff005ed5"
	case plan.OfHaven:
		color = "ffe9b456"
	}
	return style{ID: k.One, Line: paint{color, width}, Poly: paint{Color: "40" + color[2:]}}
}

func placed(f feature.Feature) placemark {
	p := placemark{Name: clean(f.Name), Text: clean(f.Text), Style: "#" + f.Kind.Word()}
	if f.Stop != "" {
		p.Name = "STOP " + p.Name
	}
	switch {
	case f.Closed:
		rings, _ := f.Rings()
		p.Area = &area{}
		for i, ring := range rings {
			around := boundary{coordinates{positions(append(slices.Clip(ring), ring[0]))}}
			if i == 0 {
				p.Area.Border = around
			} else {
				p.Area.Holes = append(p.Area.Holes, around)
			}
		}
	case len(f.Points) == 1:
		p.Point = &coordinates{positions(f.Points)}
	default:
		p.Line = &line{1, positions(f.Points)}
	}
	return p
}

// positions writes longitudes and latitudes.
func positions(list []feature.Point) string {
	at := make([]string, len(list))
	for i, q := range list {
		at[i] = degrees(q.At.Lon.Deg()) + "," + degrees(q.At.Lat.Deg())
	}
	return strings.Join(at, " ")
}

// degrees writes a number of degrees to a millimetre.
func degrees(v float64) string { return strconv.FormatFloat(v, 'f', 8, 64) }

// clean leaves out what XML 1.0 forbids (section 2.2) and other control characters.
func clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			return ' '
		case unicode.IsControl(r), r == unicode.ReplacementChar, r >= 0xFFFE && r <= 0xFFFF:
			return -1
		}
		return r
	}, text)
}
