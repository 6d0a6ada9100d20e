package straight

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"legwright/mapio/beside"
)

// set are files that are to appear together. The first is the picture; the
// others say of it where it lies.
type set struct{ members []member }

// member is one of them: the name under which it was written, and that which it
// is to have.
type member struct{ made, name string }

// add writes one.
func (s *set) add(name string, write func(io.Writer) error) error {
	made, err := beside.Write(name, write)
	if err == nil {
		s.members = append(s.members, member{made, name})
	}
	return err
}

// drop removes what has not got its place.
func (s *set) drop() {
	for _, m := range s.members {
		_ = os.Remove(m.made) // what matters is why they were not placed
	}
}

// place puts all in their places. What spoke of an older picture is put aside
// before the new one comes, for it would say of that where the old one lay, and
// comes back if the picture cannot take its place.
func (s *set) place() error {
	var aside []member
	defer func() {
		for _, m := range aside {
			_ = os.Remove(m.made)
		}
	}()
	for _, m := range s.members[1:] {
		old, err := putAside(m.name)
		if err != nil {
			bring(aside)
			return fmt.Errorf("%s was not written: %w", m.name, beside.Reason(err))
		}
		if old != "" {
			aside = append(aside, member{old, m.name})
		}
	}
	if err := beside.Rename(s.members[0].made, s.members[0].name); err != nil {
		bring(aside)
		return err
	}
	for _, m := range s.members[1:] {
		if err := os.Rename(m.made, m.name); err != nil {
			return fmt.Errorf("%s was not written, and %s has no place without it: %w", m.name, s.members[0].name, beside.Reason(err))
		}
	}
	return nil
}

// putAside gives a file another name, and returns that; "" where there is none.
func putAside(name string) (string, error) {
	if info, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
		return "", nil
	} else if err == nil && info.IsDir() {
		return "", &fs.PathError{Op: "replace", Path: name, Err: errors.New("a folder of that name lies there")}
	}
	old, err := beside.Write(name, textOf(""))
	if err == nil {
		err = os.Rename(name, old)
	}
	if err != nil {
		return "", err
	}
	return old, nil
}

// bring gives files that were put aside their names back.
func bring(list []member) {
	for _, m := range list {
		_ = os.Rename(m.made, m.name) // what matters is why the picture was not placed
	}
}
