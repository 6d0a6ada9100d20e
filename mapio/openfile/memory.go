package openfile

import (
	"bytes"
	"io/fs"
	"time"
)

// memory is a folder with one file in memory.
type memory struct {
	name    string
	data    []byte
	changed time.Time
}

// InMemory returns a folder with one file in memory, such as a picture from an
// archive. Do not change the data afterwards.
func InMemory(name string, data []byte, changed time.Time) fs.FS { return memory{name, data, changed} }

// Open opens the one file.
func (m memory) Open(name string) (fs.File, error) {
	if name != m.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return memoryFile{bytes.NewReader(m.data), m}, nil
}

type memoryFile struct {
	*bytes.Reader
	of memory
}

func (f memoryFile) Close() error               { return nil }
func (f memoryFile) Stat() (fs.FileInfo, error) { return memoryInfo{f.of}, nil }

type memoryInfo struct{ of memory }

func (i memoryInfo) Name() string       { return i.of.name }
func (i memoryInfo) Size() int64        { return int64(len(i.of.data)) }
func (i memoryInfo) Mode() fs.FileMode  { return 0o444 }
func (i memoryInfo) ModTime() time.Time { return i.of.changed }
func (i memoryInfo) IsDir() bool        { return false }
func (i memoryInfo) Sys() any           { return nil }
