package planfile

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"legwright/app/plan"
	"legwright/mapio/atomicfile"
	"legwright/mapio/openfile"
)

// Ext is the ending of a plan file.
const Ext = ".legplan"

// Store reads and writes plan files. In memory, pictures are named by absolute
// path; in the file, relative to it. The zero Store is ready for use.
type Store struct{}

// NewStore returns a store on the machine's file system.
func NewStore() *Store { return &Store{} }

// Load reads the plan at path and what its file looked like. Errors are those
// of Decode and of the file system.
func (s *Store) Load(path string) (*plan.Plan, plan.Stamp, error) {
	text, stamp, err := readPlan(path)
	if err != nil {
		return nil, plan.Stamp{}, err
	}
	p, err := decode(text)
	if err != nil {
		return nil, plan.Stamp{}, fmt.Errorf("%s: %w", path, err)
	}
	real, err := atomicfile.Target(path)
	if err != nil {
		return nil, plan.Stamp{}, err
	}
	return withPictures(p, func(name string) string { return AbsPicture(real, name) }), stamp, nil
}

// readPlan reads a file that may be a plan, never more than MaxBytes.
func readPlan(path string) ([]byte, plan.Stamp, error) {
	f, err := openfile.Open(path)
	if err != nil {
		return nil, plan.Stamp{}, err
	}
	defer f.Close() // read only: nothing to lose
	info, err := f.Stat()
	if err != nil {
		return nil, plan.Stamp{}, err
	}
	if info.Size() > MaxBytes {
		return nil, plan.Stamp{}, fmt.Errorf("%s: %w", path, ErrTooLarge)
	}
	var text bytes.Buffer
	text.Grow(int(info.Size()) + bytes.MinRead)
	if _, err := text.ReadFrom(io.LimitReader(f, MaxBytes+1)); err != nil {
		return nil, plan.Stamp{}, err
	}
	if text.Len() > MaxBytes { // the file grew while it was read
		return nil, plan.Stamp{}, fmt.Errorf("%s: %w", path, ErrTooLarge)
	}
	return text.Bytes(), stampOf(text.Bytes(), info), nil
}

func stampOf(text []byte, info fs.FileInfo) plan.Stamp {
	return plan.Stamp{ModTime: info.ModTime(), Size: int64(len(text)), SHA256: sha256.Sum256(text)}
}

// Save writes the plan to path, or to the file that a link there leads to. Nothing
// is written if over.Expect is not zero and the file has other content by now (the
// error is plan.ErrChangedOnDisk), or if it is read-only and over.ReadOnly is false
// (*atomicfile.ReadOnly). The previous file stays as NAME.bak. After an error the
// previous file is unchanged.
func (s *Store) Save(path string, p *plan.Plan, over plan.Overwrite) (plan.Stamp, error) {
	path, err := atomicfile.Target(path)
	if err != nil {
		return plan.Stamp{}, err
	}
	text, err := encode(withPictures(p, func(name string) string { return RelPicture(path, name) }))
	if err != nil {
		return plan.Stamp{}, err
	}
	if len(text) > MaxBytes {
		return plan.Stamp{}, ErrTooLarge
	}
	if err := unchanged(path, over.Expect); err != nil {
		return plan.Stamp{}, err
	}
	if err := atomicfile.WriteBytes(path, atomicfile.Options{Backup: true, ReadOnly: over.ReadOnly}, text); err != nil {
		return plan.Stamp{}, unharmed(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		return plan.Stamp{}, err
	}
	return stampOf(text, info), nil
}

// unharmed adds to an error of saving that the earlier version is unchanged.
func unharmed(err error) error {
	if readOnly := new(atomicfile.ReadOnly); errors.As(err, &readOnly) {
		return err // its text says so already
	}
	return fmt.Errorf("%w. Any earlier version of the plan is unchanged", err)
}

// unchanged compares the file with its stamp. One that has gone is not a reason
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
