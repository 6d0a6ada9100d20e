// Package benchsheet makes the big sheets that the speed figures are measured
// on: scans of the demo's look at any size, in several encodings. They are made
// once and kept in the user's cache folder.
package benchsheet

import (
	"context"
	"errors"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
)

// version names the drawing and the encoding. Change it whenever one of them
// changes.
const version = "v1"

// Kind is one way of encoding a sheet.
type Kind string

// The encodings: JPEG baseline with 4:2:0 chroma, progressive JPEG with 4:2:0
// chroma, baseline without subsampling, PNG, and TIFF in tiles of 256 pixels,
// deflated, with reduced pages down to one tile.
const (
	JPEG        Kind = "jpg"
	Progressive Kind = "prog.jpg"
	JPEG444     Kind = "444.jpg"
	PNG         Kind = "png"
	TIFF        Kind = "tif"
)

// Size returns the sides in pixels of a sheet of about 3, 192 or 300
// megapixels, in the proportions of an A1 sheet read at 600 pixels per inch.
func Size(megapixels int) image.Point {
	switch megapixels {
	case 3:
		return image.Pt(1400, 2143)
	case 192:
		return image.Pt(11200, 17143)
	}
	return image.Pt(14000, 21430)
}

// Make returns the file of a sheet, and makes it if necessary. It needs libvips,
// and 3 bytes per pixel on the disk for a while. The file is written under another
// name first, so that an existing one is complete.
func Make(ctx context.Context, megapixels int, k Kind) (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("no folder for the sheets: %w", err)
	}
	dir := filepath.Join(cache, "legwright-bench", "sheets")
	file := filepath.Join(dir, fmt.Sprintf("sheet-%s-%d.%s", version, megapixels, k))
	if _, err := os.Stat(file); err == nil {
		return file, nil
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", fmt.Errorf("folder for the sheets: %w", err)
	}
	work, err := os.MkdirTemp(dir, "making")
	if err != nil {
		return "", fmt.Errorf("folder for the sheets: %w", err)
	}
	defer os.RemoveAll(work)
	raw, made := filepath.Join(work, "sheet.ppm"), filepath.Join(work, "made."+string(k))
	if err := drawRaw(raw, Size(megapixels)); err != nil {
		return "", fmt.Errorf("sheet of %d megapixels: %w", megapixels, err)
	}
	if out, err := exec.CommandContext(ctx, "vips", k.vipsArgs(raw, made)...).CombinedOutput(); err != nil {
		return "", fmt.Errorf("sheet of %d megapixels as %s: vips (Debian package libvips-tools): %w: %s", megapixels, k, err, out)
	}
	return file, os.Rename(made, file)
}

// vipsArgs are the arguments of vips for one encoding.
func (k Kind) vipsArgs(from, to string) []string {
	switch k {
	case Progressive:
		return []string{"jpegsave", from, to, "--Q", "90", "--subsample-mode", "on", "--interlace"}
	case JPEG444:
		return []string{"jpegsave", from, to, "--Q", "90", "--subsample-mode", "off"}
	case PNG:
		return []string{"pngsave", from, to, "--compression", "6", "--filter", "all"}
	case TIFF:
		return []string{
			"tiffsave", from, to, "--tile", "--tile-width", "256", "--tile-height", "256", "--pyramid",
			"--compression", "deflate", "--predictor", "horizontal", "--xres", "23.622", "--yres", "23.622",
		}
	}
	return []string{"jpegsave", from, to, "--Q", "90", "--subsample-mode", "on"}
}

// drawRaw writes the sheet without any compression.
func drawRaw(raw string, size image.Point) error {
	p, err := newPaper()
	if err != nil {
		return err
	}
	f, err := os.Create(raw)
	if err != nil {
		return err
	}
	return errors.Join(p.writePPM(f, size), f.Close())
}
