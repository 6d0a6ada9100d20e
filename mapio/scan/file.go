package scan

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
)

// MaxFile is the largest file, in bytes, that is read whole into memory when
// its file system cannot read at an offset.
const MaxFile = 1 << 30

// file is an open file that can be read from several places at a time.
type file struct {
	at    io.ReaderAt
	size  int64
	close func()
}

func openFile(fsys fs.FS, name string) (*file, error) {
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
		return &file{at, info.Size(), func() { f.Close() }}, nil
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, MaxFile+1))
	if err != nil {
		return nil, err
	}
	if len(b) > MaxFile {
		return nil, fmt.Errorf("%s: %w: file of more than %d MB", name, ErrTooLarge, MaxFile>>20)
	}
	return &file{bytes.NewReader(b), int64(len(b)), func() {}}, nil
}

func (f *file) section() *io.SectionReader { return io.NewSectionReader(f.at, 0, f.size) }
