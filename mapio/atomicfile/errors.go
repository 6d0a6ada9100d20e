package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// ReadOnly is the error for an existing file that is read-only.
type ReadOnly struct{ Path string }

func (e *ReadOnly) Error() string {
	return e.Path + " is read-only and was not changed: name another file"
}

// fault says why path was not written.
func fault(path string, err error) error {
	return fmt.Errorf("%s was not written: %w", path, reason(err))
}

// reason is the system's error without the names of temporary files.
func reason(err error) error {
	var link *os.LinkError
	var file *fs.PathError
	switch {
	case errors.As(err, &link):
		return link.Err
	case errors.As(err, &file):
		return file.Err
	}
	return err
}

// filling turns an error of the temporary file into one that names path, and
// returns every other error of fill as it is.
func filling(temp, path string, err error) error {
	var file *fs.PathError
	if errors.As(err, &file) && file.Path == temp {
		return fault(path, err)
	}
	return err
}
