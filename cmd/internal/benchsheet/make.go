package benchsheet

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
)

// ErrNoVips is returned where libvips is not at hand.
var ErrNoVips = errors.New("vips was not found; install libvips-tools")

// Folder returns the folder in the user's cache where the sheets are kept.
func Folder() (string, error) {
	dir, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("no folder for the sheets: %w", err)
	}
	return filepath.Join(dir, "legwright-bench"), nil
}

// Name is the file name of a sheet.
func Name(megapixels int, k Kind) string {
	return fmt.Sprintf("sheet-%s-%d.%s", version, megapixels, k)
}

// Make returns the files of a sheet of so many megapixels in the wanted
// encodings, in their order, and makes in dir those that are not there yet.
// Each is written under another name first, so that one that is there is
// whole. It needs 3 bytes a pixel on the disk for a while, and returns
// ErrNoVips where libvips is missing.
func Make(ctx context.Context, dir string, megapixels int, kinds ...Kind) ([]string, error) {
	files := make([]string, len(kinds))
	var wanted []Kind
	for i, k := range kinds {
		files[i] = filepath.Join(dir, Name(megapixels, k))
		if _, err := os.Stat(files[i]); err != nil {
			wanted = append(wanted, k)
		}
	}
	if len(wanted) == 0 {
		return files, nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("folder for the sheets: %w", err)
	}
	work, err := os.MkdirTemp(dir, "making")
	if err != nil {
		return nil, fmt.Errorf("folder for the sheets: %w", err)
	}
	defer os.RemoveAll(work)
	raw := filepath.Join(work, "sheet.ppm")
	if err := drawRaw(raw, megapixels); err != nil {
		return nil, fmt.Errorf("sheet of %d megapixels: %w", megapixels, err)
	}
	for _, k := range wanted {
		if err := encode(ctx, raw, filepath.Join(dir, Name(megapixels, k)), k); err != nil {
			return nil, fmt.Errorf("sheet of %d megapixels as %s: %w", megapixels, k, err)
		}
	}
	return files, nil
}

// drawRaw writes the sheet without any compression.
func drawRaw(raw string, megapixels int) error {
	p, err := newPaper()
	if err != nil {
		return err
	}
	f, err := os.Create(raw)
	if err != nil {
		return err
	}
	return errors.Join(p.writePPM(f, Size(megapixels)), f.Close())
}

// encode has libvips write the raw picture in one encoding.
func encode(ctx context.Context, raw, file string, k Kind) error {
	vips, err := exec.LookPath("vips")
	if err != nil {
		return ErrNoVips
	}
	tmp := filepath.Join(filepath.Dir(raw), "made."+string(k))
	if out, err := exec.CommandContext(ctx, vips, k.vipsArgs(raw, tmp)...).CombinedOutput(); err != nil {
		return fmt.Errorf("vips: %w: %s", err, out)
	}
	return os.Rename(tmp, file)
}

// Sweep removes from dir what an older version of the drawing or a broken run
// left behind.
func Sweep(dir string) error {
	var keep []string
	for _, mp := range []int{3, 50, 192, 300} {
		for _, k := range Kinds() {
			keep = append(keep, Name(mp, k))
		}
	}
	list, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	for _, e := range list {
		if !slices.Contains(keep, e.Name()) {
			err = errors.Join(err, os.RemoveAll(filepath.Join(dir, e.Name())))
		}
	}
	return err
}
