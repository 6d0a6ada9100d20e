package scan

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"legwright/mapio/kml"
	"legwright/mapio/openfile"
)

// Inside gives the file system and the name under which the picture of a KML
// or KMZ file lies: the ground overlay of that number, counted from 1, 0
// meaning the first. Open, Look and ReadHeader look inside of themselves; Mark
// and whoever reads the file's bytes have to be given what Inside gives. Any
// other file is given back as it is. An error wraps one of the sentinels of
// this package or is the file system's.
func Inside(fsys fs.FS, name string, number int) (fs.FS, string, error) {
	if _, in := fsys.(*overlaid); in || !IsOverlay(name) {
		return fsys, name, nil
	}
	o, inner, err := lookInside(fsys, name, number)
	var not *openfile.NotRegular
	if errors.As(err, &not) {
		return nil, "", err // it names the file
	}
	if err != nil {
		return nil, "", fmt.Errorf("%s: %w", name, kmlFault(err))
	}
	return o, inner, nil
}

// IsOverlay says by its name that a file lays pictures over the ground.
func IsOverlay(name string) bool {
	ext := path.Ext(name)
	return strings.EqualFold(ext, ".kml") || strings.EqualFold(ext, ".kmz")
}

// overlaid is the file system that the picture of an overlay lies in.
type overlaid struct {
	fs.FS
	from   string // the file that says where it lies
	says   kml.Overlay
	number int // counted from 1
	of     int
}

// tell tells a header which of several overlays it is of.
func (o *overlaid) tell(h *Header) {
	if o != nil && o.of > 1 {
		h.Page, h.Pages = o.number, o.of
	}
}

// OverlayNames are the names of the ground overlays of a KML or KMZ file, in
// its order, "" for those without one. Errors are those of Inside.
func OverlayNames(fsys fs.FS, name string) ([]string, error) {
	f, err := openFile(fsys, name)
	if err != nil {
		return nil, err
	}
	defer f.close()
	list, _, err := overlaysOf(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, kmlFault(err))
	}
	names := make([]string, len(list))
	for i, o := range list {
		names[i] = o.Name
	}
	return names, nil
}

// overlaysOf reads a file's overlays, with the archive they are in, nil for
// none.
func overlaysOf(f *file) (list []kml.Overlay, archive *kml.Archive, err error) {
	if !isZip(f) {
		list, err = kml.Read(f.section())
		return list, nil, err
	}
	if archive, err = kml.OpenArchive(f.at, f.size); err == nil {
		list, err = archive.Overlays()
	}
	return list, archive, err
}

func lookInside(fsys fs.FS, name string, number int) (*overlaid, string, error) {
	f, err := openFile(fsys, name)
	if err != nil {
		return nil, "", err
	}
	defer f.close()
	list, archive, err := overlaysOf(f)
	if err == nil {
		err = checkPageNumber(number, len(list))
	}
	if err != nil {
		return nil, "", err
	}
	o := &overlaid{FS: fsys, from: path.Base(name), number: max(1, number), of: len(list)}
	o.says = list[o.number-1]
	if archive == nil {
		inner, err := beside(fsys, name, o.says)
		return o, inner, err
	}
	data, inner, changed, err := archive.Picture(o.says)
	if err != nil {
		return nil, "", err
	}
	inner = path.Base(inner)
	o.FS = openfile.InMemory(inner, data, changed)
	return o, inner, nil
}

func isZip(f *file) bool {
	head := make([]byte, 4)
	n, _ := f.at.ReadAt(head, 0)
	return has(head[:n], 0, "PK\x03\x04")
}

// beside finds the picture that a KML file names, in the file's folder or below. If
// fsys comes from openfile, links out of that folder are not followed.
func beside(fsys fs.FS, name string, o kml.Overlay) (string, error) {
	names, err := o.Path()
	if err != nil {
		return "", err
	}
	for _, n := range names {
		at := path.Join(path.Dir(name), n)
		info, err := fs.Stat(fsys, at)
		var outside *openfile.Outside
		switch {
		case err == nil && !info.IsDir():
			return at, nil
		case errors.As(err, &outside):
			return "", fmt.Errorf("%w: %w", kml.ErrLink, err)
		}
	}
	return "", fmt.Errorf("%w: there is no %.60q in the file's folder", kml.ErrMissing, names[0])
}

// kmlFault maps an error of package kml to one of this package.
func kmlFault(err error) error {
	return among(
		err,
		[2]error{kml.ErrNotKML, ErrNotPicture}, [2]error{kml.ErrNoOverlay, ErrNotPicture}, [2]error{kml.ErrLink, ErrLink},
		[2]error{kml.ErrMissing, ErrLink}, [2]error{kml.ErrTooLarge, ErrTooLarge}, [2]error{kml.ErrDamaged, ErrCorrupt},
		[2]error{kml.ErrLocked, ErrUnsupported},
	)
}
