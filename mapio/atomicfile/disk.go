package atomicfile

import (
	"io"
	"io/fs"
	"os"
)

// handle is a file that is being written.
type handle interface {
	io.WriteCloser
	Chmod(perm fs.FileMode) error
	Stat() (fs.FileInfo, error)
	Sync() error
	Name() string
}

// disk is what writing needs of a file system. Tests put failing ones in its
// place.
type disk interface {
	// create makes a file of a new name.
	create(name string, perm fs.FileMode) (handle, error)
	// keep gives the file at path a second name, or makes a copy there.
	keep(path, second string, perm fs.FileMode) error
	// rename puts a file in another's place in one step.
	rename(from, to string) error
	// syncDir makes renames in the folder last.
	syncDir(dir string) error
}

// realDisk is the file system of the machine.
type realDisk struct{}

func (realDisk) create(name string, perm fs.FileMode) (handle, error) {
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
}

func (realDisk) rename(from, to string) error { return os.Rename(from, to) }

// keep links where the file system can, for then nothing has to be copied.
func (realDisk) keep(path, second string, perm fs.FileMode) error {
	if err := os.Link(path, second); err == nil {
		return nil
	}
	return copyFile(path, second, perm)
}

func copyFile(from, to string, perm fs.FileMode) (err error) {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close() // read only: nothing to lose
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err == nil {
		err = setPerm(out, perm)
	}
	if err == nil {
		err = out.Sync()
	}
	if shut := out.Close(); err == nil {
		err = shut
	}
	return err
}

// setPerm sets a file's permissions. It does not ask the system if they are right
// already, because memory sticks and network folders without permissions refuse.
func setPerm(f handle, perm fs.FileMode) error {
	info, err := f.Stat()
	if err != nil || info.Mode().Perm() == perm {
		return err
	}
	return f.Chmod(perm)
}

func (realDisk) syncDir(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close() // read only: nothing to lose
	return f.Sync()
}
