package export

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/mapio/feature"
	"legwright/mapio/geojson"
	"legwright/mapio/gpx"
	"legwright/mapio/placemark"
	"legwright/mapio/table"
)

// Format is an open format.
type Format string

// The formats, by the endings of their files.
const (
	GPX     Format = ".gpx"
	GeoJSON Format = ".geojson"
	KML     Format = ".kml"
	CSV     Format = ".csv"
)

// Formats returns the formats in the order in which people choose.
func Formats() []Format { return []Format{GPX, GeoJSON, KML, CSV} }

// FormatOf returns the format of a file of that name. The error says which there are.
func FormatOf(name string) (Format, error) {
	for _, f := range Formats() {
		if strings.EqualFold(filepath.Ext(name), string(f)) {
			return f, nil
		}
	}
	return "", fmt.Errorf("the ending of %s names no format to export in: end the name in .gpx, .geojson, .kml or .csv", filepath.Base(name))
}

// Bytes returns a plan in a format; o is for GPX alone. Errors are those of the first thing that
// cannot be computed, and that there is nothing to write.
func Bytes(r *leg.Reader, f Format, o gpx.Options) ([]byte, error) {
	var text bytes.Buffer
	var err error
	switch f {
	case GPX:
		err = writeGPX(&text, r, o)
	case CSV:
		err = table.CSV(&text, r)
	default:
		err = writeFeatures(&text, r, f)
	}
	return text.Bytes(), err
}

func writeGPX(w *bytes.Buffer, r *leg.Reader, o gpx.Options) error {
	x, err := leg.Export(r.Plan(), r.Model())
	if err != nil {
		return err
	}
	off, err := escape.Export(r.Plan(), r.Model())
	if err != nil {
		return err
	}
	if len(x.Marks)+len(x.Routes)+len(off) == 0 {
		return feature.ErrNothing
	}
	return gpx.Write(w, gpx.FromLegs(x, off, r.Plan().Date), o)
}

func writeFeatures(w *bytes.Buffer, r *leg.Reader, f Format) error {
	d, err := feature.Of(r)
	switch {
	case err != nil:
		return err
	case f == KML:
		return placemark.Write(w, d)
	}
	return geojson.Write(w, d)
}
