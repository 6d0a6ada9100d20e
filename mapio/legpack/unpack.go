package legpack

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// Unpack unpacks a pack of size bytes into a folder that must not exist yet, and returns the
// path of its plan: the folder's name with the ending of a plan. The folder appears whole or not
// at all. Errors wrap ErrNotPack, ErrUnsafe, ErrTooLarge or ErrExists, or are the context's
// cause or those of the file system.
func Unpack(ctx context.Context, r io.ReaderAt, size int64, folder string) (string, error) {
	folder, err := filepath.Abs(folder)
	if err != nil {
		return "", err
	}
	if _, err := os.Lstat(folder); !errors.Is(err, fs.ErrNotExist) {
		if err == nil {
			err = fmt.Errorf("%s: %w", folder, ErrExists)
		}
		return "", err
	}
	c, err := contentsOf(r, size)
	if err != nil {
		return "", err
	}
	temp, err := os.MkdirTemp(filepath.Dir(folder), ".legwright-unpack-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(temp) // gone already after success
	name := filepath.Base(folder) + planfile.Ext
	if err := c.write(ctx, temp, name); err != nil {
		return "", err
	}
	if err := os.Chmod(temp, 0o755); err != nil { // as a person's own folders are
		return "", err
	}
	if err := os.Rename(temp, folder); err != nil {
		return "", err
	}
	return filepath.Join(folder, name), nil
}

// contents are the entries of a sound pack.
type contents struct {
	plan  []byte
	files map[string]*zip.File
	sums  map[string]string // SHA-256 by the plan's word
}

// contentsOf reads the list of a pack and its plan, and refuses whatever a pack may not hold.
func contentsOf(r io.ReaderAt, size int64) (*contents, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fmt.Errorf("%w (%v)", ErrNotPack, err)
	}
	c := &contents{files: map[string]*zip.File{}, sums: map[string]string{}}
	if err := c.list(z.File, size); err != nil {
		return nil, err
	}
	f, ok := c.files[planName]
	if !ok {
		return nil, fmt.Errorf("%w: it contains no plan", ErrNotPack)
	}
	delete(c.files, planName)
	if f.UncompressedSize64 > planfile.MaxBytes {
		return nil, fmt.Errorf("%w: its plan is larger than %d MB", ErrTooLarge, planfile.MaxBytes>>20)
	}
	var text strings.Builder
	if err := copyEntry(context.Background(), &text, f); err != nil {
		return nil, err
	}
	c.plan = []byte(text.String())
	p, err := planfile.Decode(strings.NewReader(text.String()))
	if err != nil {
		return nil, fmt.Errorf("its plan cannot be read: %w", err)
	}
	return c, c.match(p)
}

// list sorts the entries, and refuses names that lead elsewhere, entries that are not files, names
// that come twice and more than the limits allow.
func (c *contents) list(entries []*zip.File, size int64) error {
	if len(entries) > maxEntries {
		return fmt.Errorf("%w: it has more than %d files", ErrTooLarge, maxEntries)
	}
	most := min(uint64(MaxBytes), max(uint64(freeBytes), mostGrowth*uint64(size)))
	var names []string
	for _, f := range entries {
		switch {
		case !allowed(f.Name):
			return unsafe("it contains %q, which does not belong in a pack", f.Name)
		case !f.Mode().IsRegular():
			return unsafe("it contains %s, which is not an ordinary file (it may be a link)", f.Name)
		case f.Flags&1 != 0:
			return unsafe("it contains %s, which is encrypted", f.Name)
		case contains(names, f.Name):
			return unsafe("it contains %s twice", f.Name)
		case f.UncompressedSize64 > most:
			return fmt.Errorf("%w: %s has %d MB", ErrTooLarge, f.Name, f.UncompressedSize64>>20)
		}
		most -= f.UncompressedSize64
		names, c.files[f.Name] = append(names, f.Name), f
	}
	return nil
}

// match compares the files with those that the plan names.
func (c *contents) match(p *plan.Plan) error {
	name := func(path, sum string, embedded bool) error {
		if path == "" || embedded {
			return nil
		}
		if known, twice := c.sums[path]; twice && known != sum {
			return unsafe("its plan names %s twice, with different contents", path)
		}
		if c.files[path] == nil {
			return unsafe("its plan names %q, which is missing", path)
		}
		c.sums[path] = sum
		return nil
	}
	for _, s := range p.Sheets {
		if err := name(s.Picture, s.SHA256, s.Embedded()); err != nil {
			return err
		}
	}
	for _, t := range p.Terrain {
		if err := name(t.Path, t.SHA256, t.Embedded()); err != nil {
			return err
		}
	}
	for n := range c.files {
		if c.sums[n] == "" {
			return unsafe("it contains %s, which its plan does not use: ask the sender to pack it again", n)
		}
	}
	return nil
}

// write unpacks everything into an empty folder.
func (c *contents) write(ctx context.Context, dir, planAs string) error {
	for name, f := range c.files {
		to := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		sum := sha256.New()
		err := create(to, func(w io.Writer) error { return copyEntry(ctx, io.MultiWriter(w, sum), f) })
		if err != nil {
			return err
		}
		if hex.EncodeToString(sum.Sum(nil)) != c.sums[name] {
			return unsafe("it contains %s, which is not the file that its plan was made with", name)
		}
	}
	return create(filepath.Join(dir, planAs), func(w io.Writer) error { _, err := w.Write(c.plan); return err })
}

// create writes a new file to the disk.
func create(name string, fill func(io.Writer) error) error {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644) //nolint:gosec // a name within the folder that was made for it
	if err != nil {
		return err
	}
	err = fill(f)
	if err == nil {
		err = f.Sync()
	}
	if shut := f.Close(); err == nil {
		err = shut
	}
	return err
}

// copyEntry unpacks an entry, and never more of it than it says.
func copyEntry(ctx context.Context, w io.Writer, f *zip.File) error {
	in, err := f.Open()
	if err != nil {
		return fmt.Errorf("%w (%s: %v)", ErrNotPack, f.Name, err)
	}
	defer in.Close()
	n, err := io.Copy(w, io.LimitReader(&cancelled{ctx, in}, int64(f.UncompressedSize64)+1))
	switch {
	case context.Cause(ctx) != nil:
		return context.Cause(ctx)
	case errors.As(err, new(*fs.PathError)): // of what is written
		return err
	case err != nil:
		return fmt.Errorf("%w (%s: %v)", ErrNotPack, f.Name, err)
	case uint64(n) != f.UncompressedSize64:
		return fmt.Errorf("%w (%s does not have the size that it states)", ErrNotPack, f.Name)
	}
	return nil
}
