package headless

import (
	"context"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"

	"legwright/mapio/openfile"
	"legwright/mapio/rectify"
	"legwright/mapio/scan"
)

// rectified describes the rectified map that was written.
type rectified struct {
	file  string
	grid  string // the file that defines the grid, "" if none was written
	frame rectify.Frame
	words []string
}

// rectifyGC is the garbage collector's percentage during the export.
const rectifyGC = 15

// checkRectify checks the flags of the rectified map, and that it overwrites no
// file.
func (q *calibrateRequest) checkRectify() error {
	switch {
	case q.rectify == "" && q.rectifyMPP.value > 0:
		return usagef("--metres-per-pixel works only with --rectify: add it, or leave both out")
	case q.rectify == "":
		return nil
	case q.picture == "":
		return usagef("--rectify needs a picture: add --picture FILE")
	case q.findGrid && q.points == "" && len(q.names) == 0:
		return usagef("--rectify needs a calibration: name a grid intersection with --name, or give --points")
	}
	if _, err := rectify.FormatOf(q.rectify); err != nil {
		return usagef("--rectify: %v", err)
	}
	for _, name := range rectify.Files(q.rectify) {
		if _, err := os.Lstat(name); err == nil {
			return fmt.Errorf("%s exists: name another file for the rectified map", name)
		}
	}
	return nil
}

// writeRectified writes the rectified map, its world file and its grid.
func (q *calibrateRequest) writeRectified(c *calibration, s streams) error {
	picture, err := q.pictureOf(*c)
	if err != nil {
		return err
	}
	sheet := rectify.Sheet{
		Name: filepath.Base(q.picture), Width: c.header.Width, Height: c.header.Height, Cut: rectify.CutOf(picture), Grey: rectify.GreyOf(picture),
		System: c.system, Calibration: c.fit, Verdict: c.verdict, FileCautions: c.fileCautions(), DPI: c.header.DPI, Version: s.version,
	}
	own := c.verdict.CautionsWith(c.fit)
	for _, n := range c.cautions {
		if !slices.Contains(own, n) {
			sheet.Cautions = append(sheet.Cautions, n.Text())
		}
	}
	frame, err := rectify.FrameOf(c.fit, sheet.Width, sheet.Height, q.rectifyMPP.value)
	// A decoded picture is most of the heap: without this as much garbage again
	// would gather beside it.
	defer debug.SetGCPercent(debug.SetGCPercent(rectifyGC))
	if err == nil {
		err = rectify.Save(context.Background(), q.rectify, sheet, frame, false, nil)
	}
	if err != nil {
		return fmt.Errorf("--rectify: %w", err)
	}
	c.rectified = &rectified{q.rectify, rectify.GridFile(q.rectify, c.system), frame, sheet.Words(frame)}
	return nil
}

// pictureOf returns the sheet's picture, and opens it if only its header was read.
func (q *calibrateRequest) pictureOf(c calibration) (image.Image, error) {
	if c.image != nil {
		return c.image, nil
	}
	fsys, name := openfile.Picked(q.picture)
	pic, err := scan.Open(context.Background(), fsys, name, q.drawing())
	if err != nil {
		return nil, err
	}
	return pic.Image, nil
}

// fileCautions are what the picture's own file says against its georeference.
func (c calibration) fileCautions() string {
	if c.placed == nil {
		return ""
	}
	return c.placed.place.Cautions
}

func (w *rectified) object() object {
	return object{
		{"file", w.file},
		{"world_file", rectify.WorldName(w.file)},
		{"grid_file", w.grid},
		{"metres_per_pixel", number(w.frame.MetresPerPixel)},
		{"west_m", number(w.frame.West)},
		{"north_m", number(w.frame.North)},
		{"width_px", w.frame.Cols},
		{"height_px", w.frame.Rows},
		{"says", w.words},
	}
}

func (w *rectified) lines(t *table) {
	beside := filepath.Base(rectify.WorldName(w.file))
	if w.grid != "" {
		beside += " and " + filepath.Base(w.grid)
	}
	t.line("rectified", "%s, %d × %d pixels of map, with %s; it says:", w.file, w.frame.Cols, w.frame.Rows, beside)
	for _, text := range w.words {
		t.line("", "%s", text)
	}
}
