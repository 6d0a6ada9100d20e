package rectify

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"io"
	"path/filepath"
	"strings"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/geodesy"
)

// Cut copies a rectangle of the sheet's picture, in its pixels, to an image
// that begins at (0, 0) and has the rectangle's size. The rectangle lies in the
// picture. It is called from several goroutines at a time.
type Cut func(image.Rectangle) (*image.RGBA, error)

// CutOf cuts from a picture in memory.
func CutOf(m image.Image) Cut {
	return func(r image.Rectangle) (*image.RGBA, error) {
		out := image.NewRGBA(image.Rectangle{Max: r.Size()})
		draw.Draw(out, out.Rect, m, m.Bounds().Min.Add(r.Min), draw.Src)
		return out, nil
	}
}

// GreyOf reports whether a picture is one of greys: such a one stays grey in a
// PNG, of a byte a pixel.
func GreyOf(m image.Image) bool {
	switch m := m.(type) {
	case *image.Gray, *image.Gray16:
		return true
	case *image.Paletted:
		for _, c := range m.Palette {
			if r, g, b, _ := c.RGBA(); r != g || g != b {
				return false
			}
		}
		return true
	}
	return false
}

// Sheet is the sheet to be rectified.
type Sheet struct {
	Name          string // of its picture's file
	Width, Height int    // of its picture, pixels
	Cut           Cut
	System        *geodesy.System
	Calibration   *calib.Calibration
	Grey          bool // of its picture: it has no colours, see GreyOf
	Verdict       check.Verdict
	FileCautions  string   // what the picture's file says against its georeference, see caution.Format
	Cautions      []string // sentences beyond the calibration's own cautions
	DPI           float64  // of the sheet's picture; 0 where unknown
	Workers       int      // blocks that are drawn at a time; 0 is one for each processor
	Pale          float64  // part of the way to white that colours are taken, from 0 to below 1; what is struck through is struck in full ink
}

// Format is the file format of a rectified map.
type Format int

// The formats.
const (
	PNG Format = iota
	JPEG
)

// FormatOf tells the format by a file's name. The error names the endings that
// are possible.
func FormatOf(name string) (Format, error) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".png":
		return PNG, nil
	case ".jpg", ".jpeg":
		return JPEG, nil
	}
	return PNG, fmt.Errorf("%s: end the name of the file in .png or .jpg", filepath.Base(name))
}

// WorldName is the name of the world file of a picture: .pgw or .jgw in the
// place of its ending.
func WorldName(name string) string {
	ending := ".pgw"
	if f, err := FormatOf(name); err == nil && f == JPEG {
		ending = ".jgw"
	}
	return strings.TrimSuffix(name, filepath.Ext(name)) + ending
}

// check refuses what cannot be written in the format.
func (f Format) check(size image.Point) error {
	if f == JPEG && max(size.X, size.Y) > MaxJPEGSide {
		return fmt.Errorf("%w: %d × %d pixels, and a JPEG has at most %d on a side; export a PNG, or type more metres per pixel",
			ErrTooLarge, size.X, size.Y, MaxJPEGSide)
	}
	return nil
}

// Write draws the sheet in a frame, with the band below it, and writes it to w.
// progress, which may be nil, is called with the number of rows that are done. When ctx
// ends the error is its cause. Other errors wrap ErrTooLarge or are those of
// Cut and of w.
func Write(ctx context.Context, w io.Writer, s Sheet, f Frame, format Format, progress func(done, all int)) error {
	if s.Calibration == nil || s.System == nil {
		return errors.New("the picture is not calibrated: give its control points and grid first")
	}
	reached := s.support()
	words, sigmaM := s.words(f, reached), reached.worstM/2
	band := newBand(words, f.Cols, f.Rows)
	p := &picture{s: s, f: f, band: band, progress: progress, rows: f.Rows + band.Rect.Dy()}
	if err := format.check(p.bounds().Size()); err != nil {
		return err
	}
	p.begin(ctx)
	defer p.close()
	var err error
	if format == JPEG {
		err = writeJPEG(&spliced{w: w, after: soiLen, insert: jpegWords(words, s.printDPI(f), sigmaM, s.fileCautions())}, p)
	} else {
		err = writePNG(&spliced{w: w, after: ihdrEnd, insert: pngWords(words, s.printDPI(f), sigmaM, s.fileCautions())}, p)
	}
	if cause := context.Cause(ctx); cause != nil {
		return cause
	}
	return err
}

// Draw draws the sheet in a frame, without a band, for somebody who writes it himself. take
// gets the strips from top to bottom, each with the bounds of its rows, and may not keep
// one. When ctx ends the error is its cause. Other errors are those of Cut and of take.
func Draw(ctx context.Context, s Sheet, f Frame, take func(*image.RGBA) error) error {
	if s.Calibration == nil || s.System == nil {
		return errors.New("the picture is not calibrated: give its control points and grid first")
	}
	p := &picture{s: s, f: f, band: image.NewRGBA(image.Rectangle{}), rows: f.Rows}
	p.begin(ctx)
	defer p.close()
	for p.next() {
		if err := take(p.strip); err != nil {
			return err
		}
	}
	if cause := context.Cause(ctx); cause != nil {
		return cause
	}
	return p.err
}

// printDPI is the resolution at which the picture has the scale of the sheet's
// own paper, 0 where the sheet's is not known.
func (s Sheet) printDPI(f Frame) float64 {
	return s.DPI * s.Calibration.MetresPerPixel() / f.MetresPerPixel
}
