// Package beside writes files whole or not at all: a new file is written down
// to the disk beside the one that is meant and takes its place when it is
// complete. Plans have their own way, which keeps the previous file too.
package beside

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Write writes a new file in the folder of path, which is not touched, and
// returns its name, for the caller to rename or remove. The error is that of
// write, or says of path, never of the new file, why it was not written.
func Write(path string, write func(io.Writer) error) (name string, err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".legwright-*.tmp")
	if err != nil {
		return "", fault(path, err)
	}
	err = write(f)
	if err == nil {
		err = f.Sync()
	}
	if err == nil {
		err = os.Chmod(f.Name(), 0o644)
	}
	if shut := f.Close(); err == nil {
		err = shut
	}
	if err != nil {
		_ = os.Remove(f.Name()) // what matters is why it was not written
		return "", fault(path, err)
	}
	return f.Name(), nil
}

// Rename puts the new file in the place of path. The error says of path why it
// was not written.
func Rename(name, path string) error { return fault(path, os.Rename(name, path)) }

// Replace writes path anew.
func Replace(path string, write func(io.Writer) error) error {
	name, err := Write(path, write)
	if err != nil {
		return err
	}
	if err = Rename(name, path); err != nil {
		_ = os.Remove(name) // what matters is why it could not take its place
	}
	return err
}

// Reason is what the system said, without the names of files that come and go
// by the way; an error that is not of the file system is returned as it is.
func Reason(err error) error {
	var link *os.LinkError
	var path *fs.PathError
	switch {
	case errors.As(err, &link):
		return link.Err
	case errors.As(err, &path):
		return path.Err
	}
	return err
}

// fault says of path what the system said; other errors it leaves alone.
func fault(path string, err error) error {
	if reason := Reason(err); reason != err {
		return fmt.Errorf("%s was not written: %w", path, reason)
	}
	return err
}
