package kml

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"path"
	"strings"
	"time"
)

// Archive is a KMZ archive whose list of entries has been read.
type Archive struct {
	zip *zip.Reader
	doc *zip.File
}

const maxEntries = 10_000

// OpenArchive reads the entries of a KMZ archive of size bytes. Its document
// is the first entry that ends in .kml, the one nearest to the root.
func OpenArchive(r io.ReaderAt, size int64) (*Archive, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fmt.Errorf("%w: %w; copy it again from the original", ErrDamaged, err)
	}
	if len(z.File) > maxEntries {
		return nil, fmt.Errorf("%w: the archive has %d entries, but at most %d are allowed", ErrTooLarge, len(z.File), maxEntries)
	}
	a := &Archive{zip: z}
	for _, f := range z.File {
		if strings.EqualFold(path.Ext(f.Name), ".kml") && (a.doc == nil || depth(f.Name) < depth(a.doc.Name)) {
			a.doc = f
		}
	}
	if a.doc == nil {
		return nil, fmt.Errorf("%w: the archive contains none", ErrNotKML)
	}
	return a, nil
}

func depth(name string) int { return strings.Count(name, "/") }

// Overlays reads the ground overlays of the archive's document.
func (a *Archive) Overlays() ([]Overlay, error) {
	b, err := unpack(a.doc, MaxDocument)
	if err != nil {
		return nil, err
	}
	return Read(bytes.NewReader(b))
}

// Picture unpacks the picture of an overlay, with its name in the archive and
// its time of change.
func (a *Archive) Picture(o Overlay) (data []byte, name string, changed time.Time, err error) {
	names, err := o.Path()
	if err != nil {
		return nil, "", changed, err
	}
	dir := path.Dir(strings.ReplaceAll(a.doc.Name, `\`, "/"))
	for _, n := range names {
		want := path.Join(dir, n)
		for _, same := range []func(a, b string) bool{func(a, b string) bool { return a == b }, strings.EqualFold} {
			for _, f := range a.zip.File {
				if same(path.Clean(strings.ReplaceAll(f.Name, `\`, "/")), want) && !strings.HasSuffix(f.Name, "/") {
					data, err = unpack(f, MaxPicture)
					return data, want, f.Modified, err
				}
			}
		}
	}
	return nil, "", changed, fmt.Errorf("%w: the archive has no %.60q", ErrMissing, names[0])
}

// unpack reads an entry, at most so many bytes of it whatever it claims.
func unpack(f *zip.File, most int64) ([]byte, error) {
	const encrypted = 1
	switch {
	case f.Flags&encrypted != 0:
		return nil, fmt.Errorf("%.60q %w: save the archive without one", f.Name, ErrLocked)
	case f.UncompressedSize64 > uint64(most):
		return nil, fmt.Errorf("%w: %.60q unpacks to %d MB, but at most %d MB are allowed", ErrTooLarge, f.Name, f.UncompressedSize64>>20, most>>20)
	}
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("%w: %.60q: %w", ErrDamaged, f.Name, err)
	}
	defer r.Close()
	const mostDeflate = 1032 // bytes that a packed one can give
	var b bytes.Buffer
	b.Grow(int(min(f.UncompressedSize64, f.CompressedSize64*mostDeflate)) + bytes.MinRead)
	n, err := b.ReadFrom(io.LimitReader(r, most+1))
	switch {
	case n > most:
		return nil, fmt.Errorf("%w: %.60q unpacks to more than %d MB", ErrTooLarge, f.Name, most>>20)
	case err != nil:
		return nil, fmt.Errorf("%w: %.60q: %w; copy it again from the original", ErrDamaged, f.Name, err)
	}
	return b.Bytes(), nil
}
