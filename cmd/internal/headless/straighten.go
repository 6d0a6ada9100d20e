package headless

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"

	"legwright/app/calib"
	"legwright/mapio/rectify"
)

// straightened is the picture that was written with grid north up.
type straightened struct {
	file  string
	grid  string // the file that defines it, "" where there is none
	frame rectify.Frame
	words []string
}

// straightGC is the percentage of garbage beside what lives, while a picture is
// straightened.
const straightGC = 15

// checkStraighten holds the flags of the straightened picture together, and
// spares what is there already.
func (q *calibrateRequest) checkStraighten() error {
	switch {
	case q.straighten == "" && q.straightMPP.value > 0:
		return usagef("--metres-per-pixel goes with --straighten")
	case q.straighten == "":
		return nil
	case q.picture == "":
		return usagef("--straighten needs the --picture that is to be straightened")
	case q.findGrid && q.points == "" && len(q.names) == 0:
		return usagef("--straighten needs a calibration: name a crossing, or give --points")
	}
	if _, err := rectify.FormatOf(q.straighten); err != nil {
		return usagef("--straighten: %v", err)
	}
	for _, name := range rectify.Files(q.straighten) {
		if _, err := os.Lstat(name); err == nil {
			return fmt.Errorf("%s is there already: name another file for the straightened picture", name)
		}
	}
	return nil
}

// writeStraight writes the straightened picture, its world file and its grid.
func (q *calibrateRequest) writeStraight(c *calibration, s streams) error {
	picture, err := q.pictureOf(*c)
	if err != nil {
		return err
	}
	sheet := rectify.Sheet{
		Name: filepath.Base(q.picture), Width: c.header.Width, Height: c.header.Height, Cut: rectify.CutOf(picture), Grey: rectify.GreyOf(picture),
		System: c.system, Calibration: c.fit, Proof: c.proof(), Contradicted: c.contradiction(), DPI: c.header.DPI, Version: s.version,
	}
	known := map[string]bool{calib.CodeUnproved: true, calib.CodePlaceContradicted: true}
	for _, w := range c.fit.Warnings() {
		known[w.Code] = true
	}
	for _, n := range c.notices {
		if !known[n.Code] {
			sheet.Cautions = append(sheet.Cautions, n.Text)
		}
	}
	frame, err := rectify.FrameOf(c.fit, sheet.Width, sheet.Height, q.straightMPP.value)
	// A decoded picture is most of the heap: without this as much garbage again
	// would gather beside it.
	defer debug.SetGCPercent(debug.SetGCPercent(straightGC))
	if err == nil {
		err = rectify.Save(context.Background(), q.straighten, sheet, frame, false, nil)
	}
	if err != nil {
		return fmt.Errorf("--straighten: %w", err)
	}
	c.straight = &straightened{q.straighten, rectify.GridFile(q.straighten, c.system), frame, sheet.Words(frame)}
	return nil
}

// proof is what showed that the calibration is right, as far as this run can
// tell.
func (c calibration) proof() calib.Proof {
	if c.placed == nil || !c.placed.proves {
		return calib.Proof{}
	}
	return calib.Proof{Kind: calib.ProofPrintedGrid, Detail: "the printed grid is where the file has it, by the crossings that were named"}
}

// contradiction is what the printed grid says against the place that the file
// gives.
func (c calibration) contradiction() calib.Contradiction {
	if c.placed == nil {
		return calib.Contradiction{}
	}
	return c.placed.against
}

func (w *straightened) object() object {
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

func (w *straightened) lines(t *table) {
	beside := filepath.Base(rectify.WorldName(w.file))
	if w.grid != "" {
		beside += " and " + filepath.Base(w.grid)
	}
	t.line("straightened", "%s, %d × %d pixels of map, with %s; it says:", w.file, w.frame.Cols, w.frame.Rows, beside)
	for _, text := range w.words {
		t.line("", "%s", text)
	}
}
