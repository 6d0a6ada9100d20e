package scan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
	"time"
	"unicode/utf8"
)

// MaxFile is the largest file, in bytes, that is read whole into memory when
// its file system cannot read at an offset.
const MaxFile = 1 << 30

// file is an open file that can be read from several places at a time.
type file struct {
	name  string
	at    io.ReaderAt
	size  int64
	close func()
	over  *overlaid // what lays it over the ground, or nil

	modTime time.Time
	now     func() (fs.FileInfo, error) // what lies under its name now; may be nil
}

func openFile(fsys fs.FS, name string) (*file, error) {
	f, err := openPlain(fsys, name)
	if err == nil {
		f.over, _ = fsys.(*overlaid)
	}
	return f, err
}

func openPlain(fsys fs.FS, name string) (*file, error) {
	if !utf8.ValidString(name) {
		return nil, fmt.Errorf("%q: the file's name is not valid UTF-8: rename it: %w", name, fs.ErrInvalid)
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		err = fmt.Errorf("%s: %w: it is a folder", name, ErrNotPicture)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	if at, ok := f.(io.ReaderAt); ok {
		return &file{
			name: name, at: at, size: info.Size(), close: func() { f.Close() },
			modTime: info.ModTime(), now: func() (fs.FileInfo, error) { return fs.Stat(fsys, name) },
		}, nil
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, MaxFile+1))
	if err != nil {
		return nil, err
	}
	if len(b) > MaxFile {
		return nil, fmt.Errorf("%s: %w: the file has more than %d MB; cut the picture into pieces or save it smaller", name, ErrTooLarge, MaxFile>>20)
	}
	return &file{name: name, at: bytes.NewReader(b), size: int64(len(b)), close: func() {}}, nil
}

// header reads the file's header, of the page that is asked for.
func (f *file) header(in io.ReaderAt, page int) (Header, error) {
	if f.over != nil {
		page = 0 // it counts overlays, and one of them is open
	}
	h, err := readHeader(io.NewSectionReader(in, 0, f.size), page)
	f.over.tell(&h)
	if errors.Is(err, ErrNotPicture) && strings.EqualFold(path.Ext(f.name), ".hgt") {
		return h, fmt.Errorf("%w: an .hgt file contains heights: %s", ErrNotPicture, asTerrain)
	}
	if err == nil {
		err = checkClaims(h, f.size)
	}
	return h, err
}

func (f *file) section() *io.SectionReader { return io.NewSectionReader(f.at, 0, f.size) }
