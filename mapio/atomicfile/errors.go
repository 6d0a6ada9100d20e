package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// ReadOnly is the error of a file that is there and is read-only.
type ReadOnly struct{ Path string }

func (e *ReadOnly) Error() string {
	return e.Path + " is read-only and was left as it is: name another file"
}

// fault says of path why it was not written.
func fault(path string, err error) error {
	return fmt.Errorf("%s was not written: %w", path, reason(err))
}

// reason is what the system said, without the names of files that come and go
// on the way.
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

// filling is the error of a content: where it is of the temporary file it says
// of path why that was not written, else it stays as it is.
func filling(temp, path string, err error) error {
	var file *fs.PathError
	if errors.As(err, &file) && file.Path == temp {
		return fault(path, err)
	}
	return err
}
