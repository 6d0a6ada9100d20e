package scan

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"time"

	"legwright/mapio/kml"
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
	o.FS = unpacked{inner, data, changed}
	return o, inner, nil
}

func isZip(f *file) bool {
	head := make([]byte, 4)
	n, _ := f.at.ReadAt(head, 0)
	return has(head[:n], 0, "PK\x03\x04")
}

// beside finds the picture that a KML file names, in its own folder or below.
func beside(fsys fs.FS, name string, o kml.Overlay) (string, error) {
	names, err := o.Path()
	if err != nil {
		return "", err
	}
	for _, n := range names {
		at := path.Join(path.Dir(name), n)
		if info, err := fs.Stat(fsys, at); err == nil && !info.IsDir() {
			return at, nil
		}
	}
	return "", fmt.Errorf("%w: there is no %.60q beside the file", kml.ErrMissing, names[0])
}

// kmlFault puts the errors of the reader of KML among those of this package.
func kmlFault(err error) error {
	for from, to := range map[error]error{
		kml.ErrNotKML: ErrNotPicture, kml.ErrNoOverlay: ErrNotPicture, kml.ErrLink: ErrLink,
		kml.ErrMissing: ErrLink, kml.ErrTooLarge: ErrTooLarge, kml.ErrDamaged: ErrCorrupt,
	} {
		if errors.Is(err, from) {
			return fmt.Errorf("%w: %w", to, err)
		}
	}
	return err
}

// unpacked is a file system of the one file that was taken out of an archive.
type unpacked struct {
	name    string
	data    []byte
	changed time.Time
}

// Open opens the file.
func (u unpacked) Open(name string) (fs.File, error) {
	if name != u.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return unpackedFile{bytes.NewReader(u.data), u}, nil
}

type unpackedFile struct {
	*bytes.Reader
	of unpacked
}

func (f unpackedFile) Close() error               { return nil }
func (f unpackedFile) Stat() (fs.FileInfo, error) { return unpackedInfo{f.of}, nil }

type unpackedInfo struct{ of unpacked }

func (i unpackedInfo) Name() string       { return i.of.name }
func (i unpackedInfo) Size() int64        { return int64(len(i.of.data)) }
func (i unpackedInfo) Mode() fs.FileMode  { return 0o444 }
func (i unpackedInfo) ModTime() time.Time { return i.of.changed }
func (i unpackedInfo) IsDir() bool        { return false }
func (i unpackedInfo) Sys() any           { return nil }
