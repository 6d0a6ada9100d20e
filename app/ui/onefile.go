package ui

import (
	"bytes"
	"io/fs"
	"time"
)

// oneFile is a file system that holds one file in memory.
type oneFile struct {
	name string
	data []byte
}

// Open opens the one file.
func (o oneFile) Open(name string) (fs.File, error) {
	if name != o.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &memoryFile{Reader: bytes.NewReader(o.data), of: o}, nil
}

type memoryFile struct {
	*bytes.Reader
	of oneFile
}

func (f *memoryFile) Close() error               { return nil }
func (f *memoryFile) Stat() (fs.FileInfo, error) { return memoryInfo{f.of}, nil }

type memoryInfo struct{ of oneFile }

func (i memoryInfo) Name() string       { return i.of.name }
func (i memoryInfo) Size() int64        { return int64(len(i.of.data)) }
func (i memoryInfo) Mode() fs.FileMode  { return 0o444 }
func (i memoryInfo) ModTime() time.Time { return time.Time{} }
func (i memoryInfo) IsDir() bool        { return false }
func (i memoryInfo) Sys() any           { return nil }
