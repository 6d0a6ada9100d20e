package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// target is the file that is meant: the one behind the links.
type target struct {
	path  string
	there bool
	mode  fs.FileMode
	perm  fs.FileMode // that the new file gets; the umask takes from that of one not there
}

// Target returns the file that a path leads to through symbolic links, which
// need not be there yet.
func Target(path string) (string, error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real, nil
	}
	const most = 40 // links, as systems have it
	for range most {
		if info, err := os.Lstat(path); err != nil || info.Mode()&fs.ModeSymlink == 0 {
			return path, nil // whatever is wrong with it is found when it is written
		}
		to, err := os.Readlink(path)
		if err != nil {
			return "", err
		}
		if !filepath.IsAbs(to) {
			dir, err := filepath.EvalSymlinks(filepath.Dir(path))
			if err != nil {
				return "", err
			}
			to = filepath.Join(dir, to)
		}
		path = to
	}
	return "", &fs.PathError{Op: "open", Path: path, Err: errors.New("its links go round in a circle")}
}

// find looks at what is at path. The kind of a file is asked of the system,
// which follows links that are no names, as that of a shell's output is.
func find(path string) (target, error) {
	info, err := os.Stat(path)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return target{path: path, there: true, mode: info.Mode()}, nil
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return target{}, err
	}
	real, failed := Target(path)
	if failed != nil {
		return target{}, failed
	}
	if err != nil {
		return target{path: real, perm: 0o666}, nil
	}
	return target{path: real, there: true, mode: info.Mode(), perm: info.Mode().Perm()}, nil
}

// refuse says why what is at path is not replaced.
func (t target) refuse(path string, o Options) error {
	kind := ""
	switch {
	case !t.there:
		return nil
	case t.mode.IsDir():
		return fmt.Errorf("%s is a folder: name a file", path)
	case t.mode&fs.ModeNamedPipe != 0:
		kind = "pipe"
	case t.mode&fs.ModeSocket != 0:
		kind = "socket"
	case !t.mode.IsRegular():
		kind = "device"
	case !o.ReadOnly && t.readOnly():
		return &ReadOnly{path}
	default:
		return nil
	}
	return fmt.Errorf("%s is a %s, not a file: name a file", path, kind)
}

// readOnly reports whether nobody may write to the file, or we may not.
func (t target) readOnly() bool {
	if t.perm&0o222 == 0 {
		return true
	}
	f, err := os.OpenFile(t.path, os.O_WRONLY, 0)
	if err == nil {
		_ = f.Close() // nothing was written
	}
	return errors.Is(err, fs.ErrPermission)
}
