// Package openfile opens files for every reader of this program. It refuses anything
// but a regular file before opening it: a named pipe would block the program, and
// opening a device may have effects. A file named inside another file, such as the
// picture of a KML file, opens only inside that file's folder, even through links.
package openfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// NotRegular is returned for a name that leads to something other than a regular
// file. It unwraps to fs.ErrInvalid.
type NotRegular struct {
	Name string
	Kind string // "a folder", "a named pipe"
}

func (e *NotRegular) Error() string {
	return fmt.Sprintf("%s is %s, not a file: choose a file", e.Name, e.Kind)
}

// Unwrap gives the sentinel.
func (e *NotRegular) Unwrap() error { return fs.ErrInvalid }

// Outside is returned for a name inside another file that a link leads out of the
// allowed folder. It unwraps to fs.ErrInvalid.
type Outside struct{ Name, Folder string }

func (e *Outside) Error() string {
	return fmt.Sprintf("a link at %s leads out of the folder %s, so it was not opened: copy the file itself into the folder", e.Name, e.Folder)
}

// Unwrap gives the sentinel.
func (e *Outside) Unwrap() error { return fs.ErrInvalid }

// Open opens a regular file that a person has named, wherever links lead. Errors:
// *NotRegular, and those of the file system.
func Open(name string) (*os.File, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, opening(name, err)
	}
	if err := Regular(name, info); err != nil {
		return nil, err
	}
	return os.Open(name)
}

// opening words any error as one of opening name, whichever call failed.
func opening(name string, err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return &fs.PathError{Op: "open", Path: name, Err: at.Err}
	}
	return err
}

// Regular refuses with *NotRegular what is not a regular file.
func Regular(name string, info fs.FileInfo) error {
	switch m := info.Mode(); {
	case m.IsRegular():
		return nil
	case m.IsDir():
		return &NotRegular{name, "a folder"}
	case m&fs.ModeNamedPipe != 0:
		return &NotRegular{name, "a named pipe"}
	case m&fs.ModeSocket != 0:
		return &NotRegular{name, "a socket"}
	case m&fs.ModeDevice != 0:
		return &NotRegular{name, "a device"}
	}
	return &NotRegular{name, "something else"}
}

// folder is a file system that refuses links out of its directory.
type folder struct {
	dir    string
	picked string // the one name that the person chose; its links are followed
}

// Picked returns the folder of a file that a person has named, and the file's name
// in it. That file opens wherever links lead; everything else in the folder, such
// as what the file names or what lies beside it, only inside the folder. Errors of
// opening: *NotRegular, *Outside, and those of the file system.
func Picked(path string) (fsys fs.FS, name string) {
	name = filepath.Base(path)
	return folder{filepath.Dir(path), name}, name
}

// Inside returns a folder in which every file opens only inside it. Errors are
// those of Picked.
func Inside(dir string) fs.FS { return folder{dir: dir} }

// Open opens a regular file.
func (f folder) Open(name string) (fs.File, error) {
	info, err := f.Stat(name)
	if err == nil {
		err = Regular(f.path(name), info)
	}
	switch {
	case err != nil:
		return nil, err
	case name == f.picked:
		return os.Open(f.path(name))
	}
	file, err := os.OpenInRoot(f.dir, filepath.FromSlash(name))
	if err != nil {
		return nil, f.fault(name, err)
	}
	return file, nil
}

// Stat describes what a name leads to, without opening it.
func (f folder) Stat(name string) (fs.FileInfo, error) {
	switch {
	case name == f.picked:
		info, err := os.Stat(f.path(name))
		return info, opening(f.path(name), err)
	case !fs.ValidPath(name):
		return nil, &fs.PathError{Op: "stat", Path: name, Err: fs.ErrInvalid}
	}
	root, err := os.OpenRoot(f.dir)
	if err != nil {
		return nil, err
	}
	defer root.Close() // nothing was written
	info, err := root.Stat(filepath.FromSlash(name))
	if err != nil {
		return nil, f.fault(name, err)
	}
	return info, nil
}

// ReadDir lists a folder inside.
func (f folder) ReadDir(name string) ([]fs.DirEntry, error) {
	root, err := os.OpenRoot(f.dir)
	if err != nil {
		return nil, err
	}
	defer root.Close() // nothing was written
	return fs.ReadDir(root.FS(), name)
}

func (f folder) path(name string) string { return filepath.Join(f.dir, filepath.FromSlash(name)) }

// fault names the file by its full path. os.Root has no exported error for a link
// that leads outside; it is recognised as the one that does not come from the system.
func (f folder) fault(name string, err error) error {
	var at *fs.PathError
	if !errors.As(err, &at) {
		return err
	}
	var system syscall.Errno
	if !errors.As(at.Err, &system) && !errors.Is(err, fs.ErrNotExist) {
		return &Outside{f.path(name), f.dir}
	}
	return opening(f.path(name), err)
}
