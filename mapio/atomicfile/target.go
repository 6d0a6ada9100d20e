package atomicfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"legwright/mapio/openfile"
)

// target is the file to write, behind any symbolic links.
type target struct {
	path  string
	there bool
	perm  fs.FileMode // of the new file; the umask applies only if there was none
}

// Target returns the file that a path leads to through symbolic links. The file
// need not exist yet.
func Target(path string) (string, error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real, nil
	}
	const most = 40 // links, as systems have it
	for range most {
		if info, err := os.Lstat(path); err != nil || info.Mode()&fs.ModeSymlink == 0 {
			return path, nil // other faults show when it is written
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
	return "", &fs.PathError{Op: "open", Path: path, Err: errors.New("its links lead back to each other")}
}

// find returns the target of path. It asks the system for the kind of file,
// because the system also follows links such as /dev/stdout. Errors name path.
func find(path string) (target, error) {
	info, err := os.Stat(path)
	if err == nil {
		err = openfile.Regular(path, info)
		if err != nil {
			return target{}, err
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return target{}, fault(path, err)
	}
	real, err := Target(path)
	if err != nil {
		return target{}, fault(path, err)
	}
	if info == nil {
		return target{path: real, perm: 0o666}, nil
	}
	return target{path: real, there: true, perm: info.Mode().Perm()}, nil
}

// readOnly reports whether nobody, or not this user, may write to the file.
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
