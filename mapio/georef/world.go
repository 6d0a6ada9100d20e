package georef

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"strconv"
	"strings"

	"legwright/mapio/scan"
)

// World is a transform from picture to grid in the corner convention of this
// package, for the picture as shown:
//
//	easting  = A·col + B·row + C
//	northing = D·col + E·row + F
//
// in the units of the grid, which the world file does not name.
type World struct{ A, B, C, D, E, F float64 }

// At is the easting and northing of a picture point.
func (w World) At(col, row float64) (e, n float64) {
	return w.A*col + w.B*row + w.C, w.D*col + w.E*row + w.F
}

// Matrix is the transform as [A B C D E F].
func (w World) Matrix() [6]float64 { return [6]float64{w.A, w.B, w.C, w.D, w.E, w.F} }

// ErrWorld means that a world file beside the picture cannot be used.
var ErrWorld = errors.New("the world file cannot be used")

const (
	maxWorldFile  = 4096 // bytes that are read of a world file
	maxWorldValue = 1e10 // larger numbers are no map coordinates
)

// FindWorld looks beside a picture for its world file, by any of the usual names in upper
// or lower case, and converts it for the picture as shown. Without one it returns nil and
// no error; of one that cannot be used, its name and an error that wraps ErrWorld. Of
// several the most specific name counts: .tfw before .tifw before .wld. A world file is
// of the first page.
func FindWorld(fsys fs.FS, name string, h scan.Header) (*World, string, error) {
	if h.Page > 1 {
		return nil, "", nil
	}
	file := findBeside(fsys, name)
	if file == "" {
		return nil, "", nil
	}
	f, err := fsys.Open(file)
	if err != nil {
		return nil, file, fmt.Errorf("%w: %w", ErrWorld, err)
	}
	defer f.Close()
	v, err := ParseWorld(f)
	if err != nil {
		return nil, file, fmt.Errorf("%s: %w", file, err)
	}
	w := v.shown(h)
	return &w, file, nil
}

// findBeside returns the name of the world file of a picture, or "".
func findBeside(fsys fs.FS, name string) string {
	dir, base := path.Split(name)
	return inFolder(fsys, dir, worldNames(base))
}

// inFolder returns the path of the first name that a folder holds, in upper or lower case,
// or "".
func inFolder(fsys fs.FS, dir string, names []string) string {
	list, err := fs.ReadDir(fsys, path.Clean("./"+dir))
	if err != nil {
		return "" // a folder that cannot be listed offers nothing
	}
	for _, want := range names {
		for _, e := range list {
			if !e.IsDir() && strings.EqualFold(e.Name(), want) {
				return dir + e.Name()
			}
		}
	}
	return ""
}

// worldNames lists the names that a world file may have: the first and last letter of the
// picture's extension and "w", the whole extension and "w", or .wld.
func worldNames(base string) []string {
	ext := strings.TrimPrefix(path.Ext(base), ".")
	stem := strings.TrimSuffix(base, path.Ext(base))
	var names []string
	if n := len(ext); n >= 2 {
		names = append(names, stem+"."+ext[:1]+ext[n-1:]+"w")
	}
	switch strings.ToLower(ext) { // the short form of the other spelling
	case "jpeg":
		names = append(names, stem+".jgw", stem+".jpgw")
	case "tiff":
		names = append(names, stem+".tfw", stem+".tifw")
	case "tif":
		names = append(names, stem+".tiffw")
	case "jpg":
		names = append(names, stem+".jpegw")
	}
	return append(names, stem+"."+ext+"w", stem+".wld", base+".wld")
}

// WorldFile holds the six numbers of a world file in its own convention: the
// centre of stored pixel (col, row), counted from (0, 0), lies at
// A·col + B·row + C, D·col + E·row + F. The lines of the file are A, D, B, E,
// C, F.
type WorldFile struct{ A, D, B, E, C, F float64 }

// ParseWorld reads a world file: six numbers, one per line, with a point or a single comma
// for the decimals. Fewer or more, infinities, and transforms that flatten the picture are
// errors that wrap ErrWorld.
func ParseWorld(r io.Reader) (WorldFile, error) {
	b, err := io.ReadAll(io.LimitReader(r, maxWorldFile+1))
	if err != nil {
		return WorldFile{}, fmt.Errorf("%w: %w", ErrWorld, err)
	}
	if len(b) > maxWorldFile {
		return WorldFile{}, fmt.Errorf("%w: it has more than %d bytes, but should have six lines", ErrWorld, maxWorldFile)
	}
	words := strings.Fields(strings.TrimPrefix(string(b), "\ufeff"))
	if len(words) != 6 {
		return WorldFile{}, fmt.Errorf("%w: it has %d numbers, but needs 6", ErrWorld, len(words))
	}
	var v [6]float64
	for i, s := range words {
		if v[i], err = worldFigure(s); err != nil {
			return WorldFile{}, fmt.Errorf("%w: number %d: %w", ErrWorld, i+1, err)
		}
	}
	w := WorldFile{v[0], v[1], v[2], v[3], v[4], v[5]}
	if det := w.A*w.E - w.B*w.D; math.Abs(det) < 1e-18 {
		return w, fmt.Errorf("%w: its pixels have no area (%g); the first and fourth numbers are their width and height", ErrWorld, det)
	}
	return w, nil
}

func worldFigure(s string) (float64, error) {
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil && !errors.Is(err, strconv.ErrRange) {
		return 0, fmt.Errorf("%.40q is not a number", s)
	}
	if math.IsNaN(v) || math.Abs(v) > maxWorldValue {
		return 0, fmt.Errorf("%.40q is not within ±%g", s, float64(maxWorldValue))
	}
	return v, nil
}

// shown converts to the corner convention of the picture as shown.
func (w WorldFile) shown(h scan.Header) World {
	// Corner of the stored picture: its pixel (0, 0) has its centre at (½, ½).
	c := w.C - (w.A+w.B)/2
	f := w.F - (w.D+w.E)/2
	return World{A: w.A, B: w.B, C: c, D: w.D, E: w.E, F: f}.ofShown(h)
}
