package atomicfile

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
)

// BackupExt is put behind the name of the file that Options.Backup keeps.
const BackupExt = ".bak"

// Options say how a file is written. The zero value is the usual one.
type Options struct {
	// Backup keeps the replaced file under its name with BackupExt added.
	Backup bool
	// ReadOnly allows replacing a read-only file: the person has agreed.
	ReadOnly bool
	// Private takes from everybody but the owner what they may do with the file, also if it
	// was there before: it holds personal data. On Windows the folder decides who may read it.
	Private bool
	// Ready, if not nil, is called when the new file is complete on the disk, just
	// before it replaces the old one. An error ends the writing.
	Ready func() error
}

// Write replaces the file at path by what fill writes, whole or not at all. The
// error is that of fill, *ReadOnly, *openfile.NotRegular, or names path and says
// why it was not written.
func Write(path string, o Options, fill func(io.Writer) error) error {
	return write(realDisk{}, path, o, fill)
}

// WriteBytes is Write for content in memory.
func WriteBytes(path string, o Options, content []byte) error {
	return Write(path, o, func(w io.Writer) error { _, err := w.Write(content); return err })
}

// Check returns beforehand why Write would refuse path: *ReadOnly or
// *openfile.NotRegular. It is nil for an ordinary file, and if there is none yet.
func Check(path string, o Options) error {
	_, err := allowed(path, o)
	return err
}

// allowed returns the file that may be replaced or made for path.
func allowed(path string, o Options) (target, error) {
	t, err := find(path)
	if err == nil && t.there && !o.ReadOnly && t.readOnly() {
		err = &ReadOnly{path}
	}
	return t, err
}

func write(d disk, path string, o Options, fill func(io.Writer) error) error {
	t, err := allowed(path, o)
	if err != nil {
		return err
	}
	if o.Private {
		t.perm &= 0o700
	}
	dir := filepath.Dir(t.path)
	clearLeftovers(dir)
	f, err := d.create(tempName(dir), t.perm)
	if err != nil {
		return fmt.Errorf("%s was not written: no new file can be made in that folder (%w); choose another folder", path, reason(err))
	}
	temp := f.Name()
	defer os.Remove(temp) // already gone after success
	if err := fill(f); err != nil {
		_ = f.Close() // the error of fill matters
		return filling(temp, path, err)
	}
	if err := finish(f, t); err != nil {
		return fault(path, err)
	}
	if o.Ready != nil {
		if err := o.Ready(); err != nil {
			return err
		}
	}
	if err := replace(d, temp, t, o.Backup); err != nil {
		return fault(path, err)
	}
	_ = d.syncDir(dir) // some systems cannot sync a folder; its files are complete anyway
	return nil
}

// finish syncs the new file to the disk, with the permissions of the old one
// regardless of the umask.
func finish(f handle, t target) error {
	var err error
	if t.there {
		err = setPerm(f, t.perm)
	}
	if err == nil {
		err = f.Sync()
	}
	if shut := f.Close(); err == nil {
		err = shut
	}
	return err
}

// replace replaces the old file by the new one.
func replace(d disk, temp string, t target, backup bool) error {
	if t.there && backup {
		if err := backUp(d, t); err != nil {
			return fmt.Errorf("its backup copy could not be made: %w", reason(err))
		}
	}
	if runtime.GOOS == "windows" && t.there { // Windows does not replace a read-only file
		_ = os.Chmod(t.path, 0o600) // the rename reports the fault
	}
	return d.rename(temp, t.path)
}

// backUp copies the old file to its backup. The old file stays in place all the
// time, and so does the previous backup until the new one is complete.
func backUp(d disk, t target) error {
	spare := tempName(filepath.Dir(t.path))
	defer os.Remove(spare) // already gone after success
	if err := d.keep(t.path, spare, t.perm); err != nil {
		return err
	}
	return d.rename(spare, t.path+BackupExt)
}
