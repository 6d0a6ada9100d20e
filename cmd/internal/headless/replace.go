package headless

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// replaceFile puts text in the place of the file out by way of a temporary
// file beside it, so that out is whole whatever happens. The error names out
// and the reason, never the temporary file.
func replaceFile(out string, text []byte) error {
	temp, err := writeBeside(out, text)
	if err == nil {
		if err = os.Rename(temp, out); err != nil {
			_ = os.Remove(temp) // what matters is why it could not take its place
		}
	}
	if err != nil {
		return fmt.Errorf("%s was not written: %w", out, reason(err))
	}
	return nil
}

// writeBeside writes text, down to the disk, to a new file in out's folder.
func writeBeside(out string, text []byte) (name string, err error) {
	f, err := os.CreateTemp(filepath.Dir(out), ".legwright-*.tmp")
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
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
		return "", errors.Join(err, os.Remove(f.Name()))
	}
	return f.Name(), nil
}

// reason returns what the system said, without the names of files that come
// and go by the way.
func reason(err error) error {
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
