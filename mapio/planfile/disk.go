package planfile

import (
	"io"
	"os"
)

// handle is a file that is being written.
type handle interface {
	io.WriteCloser
	Sync() error
	Name() string
}

// disk is what saving needs of a file system. Tests put failing ones in its
// place.
type disk interface {
	// create makes a new file in the folder, named by a pattern as in
	// os.CreateTemp.
	create(dir, pattern string) (handle, error)
	// keep gives the file at path a second name, or makes a copy there.
	keep(path, second string) error
	// rename puts a file in another's place in one step.
	rename(from, to string) error
	// syncDir makes renames in the folder last.
	syncDir(dir string) error
}

// realDisk is the file system of the machine.
type realDisk struct{}

func (realDisk) create(dir, pattern string) (handle, error) { return os.CreateTemp(dir, pattern) }

func (realDisk) rename(from, to string) error { return os.Rename(from, to) }

// keep links where the file system can, for then nothing has to be copied.
func (realDisk) keep(path, second string) error {
	if err := os.Link(path, second); err == nil {
		return nil
	}
	return copyFile(path, second)
}

func copyFile(from, to string) (err error) {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close() // read only: nothing to lose
	out, err := os.Create(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err == nil {
		err = out.Sync()
	}
	if shut := out.Close(); err == nil {
		err = shut
	}
	return err
}

// syncDir is best effort: some systems cannot sync a folder, and the files in
// it are whole either way.
func (realDisk) syncDir(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close() // read only: nothing to lose
	return f.Sync()
}
