package dem

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/terrain"
	"legwright/mapio/georef"
	"legwright/mapio/tiff"
)

// Want says what is wanted of a file, and what the file itself may not say.
type Want struct {
	Area     terrain.Area        // the ground; the zero Area for all of it
	Feet     bool                // heights are in feet
	Grid     geodesy.Code        // of a file that does not name its grid
	Progress func(done, all int) // rows, from the reading goroutine; nil for nobody
}

// footM is the international foot. Heights in US survey feet differ by 4 mm at 2,000 m.
const footM = 0.3048

// GridBeside is the grid that the .prj file beside a terrain file defines, and the name of that
// .prj file; both are "" where there is none.
func GridBeside(fsys fs.FS, name string) (code geodesy.Code, prj string, err error) {
	s, prj, err := georef.GridBeside(fsys, name)
	if s == nil {
		return "", prj, err
	}
	return s.Code(), prj, nil
}

func (w Want) unitM() float64 {
	if w.Feet {
		return footM
	}
	return 1
}

func (w Want) tell(done, all int) {
	if w.Progress != nil {
		w.Progress(done, all)
	}
}

// Open reads the posts that are wanted of a terrain file of size bytes. name is that of
// the file, without its folder; the position of an .hgt file stands in it. Errors wrap one
// of those above, one of mapio/tiff, the context's cause, or the reader's own.
func Open(ctx context.Context, r io.ReaderAt, size int64, name string, want Want) (*terrain.Tile, error) {
	head := make([]byte, 16)
	n, err := r.ReadAt(head[:min(int64(len(head)), max(size, 0))], 0)
	if err != nil && err != io.EOF {
		return nil, err
	}
	head = head[:n]
	read := openHGT
	switch {
	case bytes.HasPrefix(head, []byte("II*\x00")), bytes.HasPrefix(head, []byte("MM\x00*")),
		bytes.HasPrefix(head, []byte("II+\x00")), bytes.HasPrefix(head, []byte("MM\x00+")):
		read = openTIFF
	case isHGT(name):
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		read = openZip
	case startsASCII(head):
		read = openASCII
	default:
		return nil, notTerrain("%s is not an .hgt file, a GeoTIFF, an Esri ASCII grid or a zip archive with an .hgt file", name)
	}
	t, err := read(ctx, r, size, name, want)
	if err != nil {
		return nil, err
	}
	t.Name = name
	if err := sober(t, want.Feet || AlwaysMetres(name)); err != nil {
		return nil, err
	}
	return t, nil
}

// Names are the endings of the files that Open reads, in lower case with their dot.
func Names() []string { return []string{".hgt", ".tif", ".tiff", ".asc", ".zip"} }

// Named reports whether a file of that name can be terrain and cannot be the picture of a
// map: a TIFF may be either.
func Named(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return ext == ".hgt" || ext == ".asc" || ext == ".zip"
}

// AlwaysMetres reports whether the heights of a file of that name can be in nothing but metres:
// those of .hgt files, zipped or not.
func AlwaysMetres(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return ext == ".hgt" || ext == ".zip"
}

// HoldsHeights reports whether a file is a TIFF of signed or floating-point numbers, which no
// picture of a map is.
func HoldsHeights(r io.ReaderAt, size int64) bool {
	f, err := tiff.Open(r, size)
	if err != nil {
		return false
	}
	page := f.Pages()[0]
	return page.Check() == nil && page.Channels == 1 && page.Format != tiff.Unsigned
}

// sober makes voids of heights that no dry ground has, and refuses those above the
// highest mountain, which may be in feet unless the unit is settled.
func sober(t *terrain.Tile, settled bool) error {
	low, high := terrain.Lowest/t.UnitM, terrain.Highest/t.UnitM
	for i := range t.Posts() {
		switch h := t.Height(i); {
		case h > high && settled:
			return damaged("a height of %.0f m is higher than any mountain", h*t.UnitM)
		case h > high:
			return fmt.Errorf("%w: a height of %.0f m is higher than any mountain; if the file is in feet, open it again as feet", ErrUnit, h*t.UnitM)
		case h < low && t.Whole != nil:
			t.Whole[i] = terrain.NoHeight
		case h < low:
			t.Heights[i] = void
		}
	}
	return nil
}
