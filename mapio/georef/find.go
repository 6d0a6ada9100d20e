package georef

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"legwright/app/geodesy"
	"legwright/mapio/scan"
	"legwright/mapio/tiff"
)

// maxPrj bounds what is read of a .prj file, in bytes.
const maxPrj = 64 << 10

// Found is everything that the files say about where a picture lies.
type Found struct {
	// Georeference is what the picture's own file or a KML file says, or a world file
	// beside it that has a .prj file; nil if nothing does.
	Georeference *Georeference
	// World is the transform of the world file beside the picture, nil if there is
	// none, and WorldFile that file's name.
	World     *World
	WorldFile string
	// WorldFault says why that world file cannot be used; it wraps ErrWorld.
	WorldFault error

	data scan.GeoData
}

// Find makes a georeference of what scan read in a picture's file, or of the world file
// beside the picture. An overlay of a KML file goes first, then the picture's own tags,
// then the world file: the first that names a known grid is used.
func Find(d scan.GeoData) (f Found) {
	f.data = d
	switch {
	case d.Page != nil: // a world file beside a PDF is of another drawing of it
		f.Georeference = fromPDF(*d.Page, d.Header)
	case d.Overlay != nil:
		inner := d
		inner.Overlay, inner.Header.Page, inner.Header.Pages = nil, 0, 0 // pages count overlays here
		f.Georeference = fromOverlay(d, Find(inner).Georeference)
	case d.Folder != nil:
		f.World, f.WorldFile, f.WorldFault = FindWorld(d.Folder, d.Name, d.Header)
		f.Georeference = ofPicture(d, f)
	}
	return f
}

// ofPicture is the georeference by a picture's own tags, or by its world file on the grid
// of the .prj file beside it.
func ofPicture(d scan.GeoData, f Found) *Georeference {
	own, h, file := fromTIFF(d.TIFF, d.Header), d.Header, f.WorldFile
	if f.World == nil {
		return own
	}
	beside := fromWorld(d.Folder, d.Name, *f.World, file)
	if beside != nil {
		beside.SigmaM, beside.States, beside.Cautions = h.PositionM, h.PositionM > 0, h.Cautions
	}
	switch {
	case own == nil:
		return beside
	case own.System == nil && beside != nil && beside.System != nil:
		beside.Notes = append(beside.Notes, fmt.Sprintf(
			"the grid in the picture's own tags cannot be used (%s): %s is used instead", own.Unknown, file))
		return beside
	case beside != nil:
		own.Notes = append(own.Notes, fmt.Sprintf("%s is ignored: the picture's own tags are used", file))
	}
	return own
}

// fromWorld is the georeference by a world file on the grid that a .prj file beside the
// picture defines; nil without such a file.
func fromWorld(fsys fs.FS, name string, w World, file string) *Georeference {
	system, prj, err := GridBeside(fsys, name)
	if prj == "" {
		return nil
	}
	p := &Georeference{Source: fmt.Sprintf("world file %s with %s", path.Base(file), prj), System: system}
	if err != nil {
		p.Unknown = err.Error()
		return p
	}
	p.Matrix = w.metres(p.System)
	return p
}

// GridBeside is the grid that the .prj file beside a file defines, and the name of that .prj
// file, "" where there is none.
func GridBeside(fsys fs.FS, name string) (s *geodesy.System, prj string, err error) {
	dir, base := path.Split(name)
	full := inFolder(fsys, dir, []string{strings.TrimSuffix(base, path.Ext(base)) + ".prj", base + ".prj"})
	if full == "" {
		return nil, "", nil
	}
	prj = path.Base(full)
	text, err := readPrj(fsys, full)
	if err == nil {
		s, err = geodesy.Define(text)
	}
	if err != nil {
		return nil, prj, fmt.Errorf("%s: %w", prj, err)
	}
	return s, prj, nil
}

// metres is the transform as a matrix to metres, for a world file in the unit of a grid.
func (w World) metres(s *geodesy.System) *[6]float64 {
	u := s.Unit().Metres
	return &[6]float64{w.A * u, w.B * u, w.C * u, w.D * u, w.E * u, w.F * u}
}

// WantsGrid reports whether there are figures of a GeoTIFF or a world file, and nothing
// says on which grid: On can use them once somebody names it.
func (f Found) WantsGrid() bool {
	if f.Georeference != nil && f.Georeference.System != nil {
		return false
	}
	return f.World != nil || f.data.TIFF != nil && positioned(f.data.TIFF)
}

// On is the georeference by the figures of a GeoTIFF or a world file on a grid that a
// person names because the file does not. The error says why there is none.
func (f Found) On(s *geodesy.System) (*Georeference, error) {
	d := f.data
	switch {
	case f.World != nil:
		p := &Georeference{Source: "world file " + path.Base(f.WorldFile), System: s, Matrix: f.World.metres(s)}
		p.SigmaM, p.States, p.Cautions = d.Header.PositionM, d.Header.PositionM > 0, d.Header.Cautions
		return p, nil
	case d.TIFF == nil:
		return nil, errNone
	case d.TIFF.Model == tiff.Geographic && s.Unit().Name != "degree":
		return nil, fmt.Errorf("the coordinates of this GeoTIFF are latitude and longitude, not easting and northing: %s does not fit them", s)
	case d.TIFF.Model != tiff.Geographic && s.Unit().Name == "degree":
		return nil, fmt.Errorf("the coordinates of this GeoTIFF are easting and northing, not latitude and longitude: %s does not fit them", s)
	}
	p := onGridOfTIFF(d.TIFF, s, d.Header)
	switch {
	case p == nil:
		return nil, errNone
	case p.System == nil:
		return nil, errors.New(p.Unknown)
	}
	return p, nil
}

func readPrj(fsys fs.FS, name string) (string, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, maxPrj+1))
	if len(b) > maxPrj {
		return "", fmt.Errorf("it is longer than %d kB, too long for a grid definition", maxPrj>>10)
	}
	return string(b), err
}
