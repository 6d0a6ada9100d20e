package scan

import (
	"io"
	"io/fs"

	"legwright/mapio/kml"
	"legwright/mapio/pdf"
	"legwright/mapio/tiff"
)

// GeoData is what a file carries about where its picture lies, as its format stores
// it. Package georef makes a georeference of it.
type GeoData struct {
	// Header is the picture's.
	Header Header
	// Folder and Name are where the picture itself is stored, which for a KML or KMZ
	// file is not the file that was opened. World files stand beside it.
	Folder fs.FS
	Name   string
	// TIFF are the GeoTIFF tags of the page, nil without any.
	TIFF *tiff.Geo
	// Page is the page of a PDF document, nil for other formats.
	Page *pdf.Page
	// Overlay is the ground overlay whose picture this is, nil for others.
	Overlay *Overlay
}

// Overlay is a ground overlay, and the name of the KML or KMZ file that it is from.
type Overlay struct {
	File string
	kml.Overlay
}

// geoData collects the data of a picture with header h. What is wrong with the tags of
// a TIFF keeps it from being decoded, and is reported there.
func geoData(fsys fs.FS, name string, at io.ReaderAt, size int64, h Header) GeoData {
	d := GeoData{Header: h, Folder: fsys, Name: name}
	page := h.Page
	if o, ok := fsys.(*overlaid); ok {
		d.Folder, d.Overlay = o.FS, &Overlay{o.from, o.says}
		page = 0 // the header's counts overlays
	}
	if h.Format != "TIFF" {
		return d
	}
	if p, _, err := pageOfTIFF(at, size, page); err == nil {
		d.TIFF = p.Geo()
	}
	return d
}
