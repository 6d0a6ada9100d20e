package planfile

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"legwright/app/plan"
)

// Ext is the ending of a plan file.
const Ext = ".legplan"

// backupExt is put behind the name of the previous plan.
const backupExt = ".bak"

// Store reads and writes plan files. In memory, pictures are named by absolute
// path; in the file, relative to it. The zero Store is ready for use.
type Store struct{ d disk }

// NewStore returns a store on the machine's file system.
func NewStore() *Store { return &Store{} }

func (s *Store) disk() disk {
	if s.d == nil {
		return realDisk{}
	}
	return s.d
}

// Load reads the plan at path and what its file looked like. Errors are those
// of Decode and of the file system.
func (s *Store) Load(path string) (*plan.Plan, plan.Stamp, error) {
	text, stamp, err := readPlan(path)
	if err != nil {
		return nil, plan.Stamp{}, err
	}
	p, err := Decode(bytes.NewReader(text))
	if err != nil {
		return nil, plan.Stamp{}, err
	}
	return withPictures(p, func(name string) string { return AbsPicture(path, name) }), stamp, nil
}

// readPlan reads a file that may be a plan, never more than MaxBytes.
func readPlan(path string) ([]byte, plan.Stamp, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, plan.Stamp{}, err
	case !info.Mode().IsRegular():
		return nil, plan.Stamp{}, &NotAPlan{"it is not a file"}
	case info.Size() > MaxBytes:
		return nil, plan.Stamp{}, ErrTooLarge
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, plan.Stamp{}, err
	}
	defer f.Close() // read only: nothing to lose
	text, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, plan.Stamp{}, err
	}
	return text, stampOf(text, info), nil
}

func stampOf(text []byte, info fs.FileInfo) plan.Stamp {
	return plan.Stamp{ModTime: info.ModTime(), Size: int64(len(text)), SHA256: sha256.Sum256(text)}
}

// Save writes the plan to path. Where expect is not zero and the file there
// has another content by now, nothing is written and the error is
// plan.ErrChangedOnDisk. The previous file stays as NAME.bak. After any other
// error the previous file is as it was.
func (s *Store) Save(path string, p *plan.Plan, expect plan.Stamp) (plan.Stamp, error) {
	path = throughLinks(path)
	text, err := encode(withPictures(p, func(name string) string { return RelPicture(path, name) }))
	if err != nil {
		return plan.Stamp{}, err
	}
	if len(text) > MaxBytes {
		return plan.Stamp{}, ErrTooLarge
	}
	if err := unchanged(path, expect); err != nil {
		return plan.Stamp{}, err
	}
	if err := s.replace(path, text); err != nil {
		return plan.Stamp{}, fmt.Errorf("the plan was not saved, and what was there before is unharmed: %w", err)
	}
	info, err := os.Stat(path)
	if err != nil {
		return plan.Stamp{}, err
	}
	return stampOf(text, info), nil
}

// throughLinks returns the file a symbolic link leads to, so that saving
// replaces that and not the link.
func throughLinks(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	return path
}

// unchanged compares the file with its stamp. One that has gone is no reason
// to refuse: there is nothing to lose.
func unchanged(path string, expect plan.Stamp) error {
	if expect.IsZero() {
		return nil
	}
	_, now, err := readPlan(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("%w (%v)", plan.ErrChangedOnDisk, err)
	case !now.Same(expect):
		return plan.ErrChangedOnDisk
	}
	return nil
}

// replace puts text in place of the file at path, or leaves all as it was.
func (s *Store) replace(path string, text []byte) error {
	d, dir, base := s.disk(), filepath.Dir(path), filepath.Base(path)
	temp, err := s.writeTemp(dir, base, text)
	if err != nil {
		return err
	}
	defer os.Remove(temp) // gone already where all went well
	old, err := os.Stat(path)
	switch {
	case err == nil:
		if err := os.Chmod(temp, old.Mode().Perm()); err != nil {
			return err
		}
		if err := s.backUp(path, dir, base); err != nil {
			return err
		}
	case errors.Is(err, fs.ErrNotExist):
		if err := os.Chmod(temp, 0o644); err != nil {
			return err
		}
	default:
		return err
	}
	if err := d.rename(temp, path); err != nil {
		return err
	}
	_ = d.syncDir(dir) // best effort, see realDisk.syncDir
	return nil
}

// writeTemp writes text to a new file in the folder, down to the disk, and
// returns its name.
func (s *Store) writeTemp(dir, base string, text []byte) (name string, err error) {
	f, err := s.disk().create(dir, "."+base+".*.tmp")
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if shut := f.Close(); err == nil {
		err = shut
	}
	if err != nil {
		return "", errors.Join(err, os.Remove(f.Name()))
	}
	return f.Name(), nil
}

// backUp keeps the file at path as its backup. The file itself stays where it
// is all the while, and so does the previous backup until the new one is
// whole.
func (s *Store) backUp(path, dir, base string) error {
	d, spare := s.disk(), filepath.Join(dir, "."+base+backupExt+".tmp")
	if err := os.Remove(spare); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := d.keep(path, spare); err != nil {
		return err
	}
	defer os.Remove(spare) // gone already where all went well
	return d.rename(spare, path+backupExt)
}
