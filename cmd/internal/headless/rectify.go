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

const rectifyHelp = `
Exports the picture with grid north up and one scale both ways, about as fine as the sheet
or at --metres-per-pixel, with at most 400 million pixels. The calibration comes from
  --points FILE.csv --grid GRID   control points, see fit
  --name COL,ROW=REF --grid GRID  the printed grid, see find-grid
  neither                         the picture's file, see locate

A world file (.pgw, .jgw) in the grid's unit is written next to the picture, and a .prj if
well-known text can define the grid. The calibration, its error and whether the sheet is
checked are written below the map and in the file's text. The ground beyond the control
points is struck through; outside the picture the map is white. Existing files are never
overwritten.

--json writes the keys of fit, find-grid or locate, and
  rectified {file,world_file,grid_file,metres_per_pixel,west_m,north_m,
      width_px,height_px,says}: west_m and north_m are the top-left corner of the map,
      width_px and height_px its size
`

func rectifyCommand() command {
	return command{
		name:  "rectify",
		usage: "--picture FILE --out FILE.png|FILE.jpg [--page N] [--dpi N] [--points FILE.csv --grid GRID | --name COL,ROW=REF... --grid GRID [--square METRES | --graticule MINUTES]] [--evidence SOURCE:COL,ROW=REF]... [--metres-per-pixel M] [--json]",
		about: "export a picture with grid north up",
		run:   runRectify,
	}
}

// rectifyRequest is what the flags of rectify ask for: a calibration by one of three
// ways, and the file to write.
type rectifyRequest struct {
	pictureFlags
	sheetFlags
	pointFlags
	namingFlags
	resultFlags
	graticule graticuleFlag

	out            string
	metresPerPixel numberFlag
}

func runRectify(c command, args []string, s streams) error {
	o := newOptions(c, rectifyHelp)
	q := rectifyRequest{metresPerPixel: numberFlag{min: 1e-6, max: 1e6}}
	q.pictureFlags.flags(o)
	o.StringVar(&q.out, "out", "", "the `FILE.png` or .jpg to write")
	o.Var(&q.metresPerPixel, "metres-per-pixel", "the `METRES` per pixel (default about as fine as the sheet)")
	q.pointFlags.flags(o)
	q.sheetFlags.flags(o)
	q.namingFlags.flags(o)
	q.graticule.flags(o)
	q.resultFlags.flags(o)
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	if err := q.check(); err != nil {
		return err
	}
	result, err := q.calibrate(s)
	if err == nil {
		err = q.write(&result, s)
	}
	return finish(result, err, q.asJSON, s)
}

// check checks the flags, and that no file is overwritten.
func (q *rectifyRequest) check() error {
	if err := q.pictureFlags.need(); err != nil {
		return err
	}
	switch {
	case q.out == "":
		return usagef("--out is missing: name the file to write, such as --out map.png")
	case q.points != "" && len(q.names) > 0:
		return usagef("--points and --name are two calibrations: give only one of them")
	}
	if _, err := rectify.FormatOf(q.out); err != nil {
		return usagef("--out: %v", err)
	}
	for _, name := range rectify.Files(q.out) {
		if _, err := os.Lstat(name); err == nil {
			return fmt.Errorf("%s exists: name another file for the rectified map", name)
		}
	}
	return nil
}

// calibrate calibrates by control points, by the printed grid or by the file.
func (q *rectifyRequest) calibrate(s streams) (calibration, error) {
	switch {
	case q.points != "":
		fit := fitRequest{pictureFlags: q.pictureFlags, sheetFlags: q.sheetFlags, resultFlags: q.resultFlags, pointFlags: q.pointFlags}
		if err := fit.check(); err != nil {
			return calibration{}, err
		}
		return fit.calibrate(s)
	case len(q.names) > 0 && q.grid.system != nil:
		lines := findGridRequest{q.pictureFlags, q.sheetFlags, q.namingFlags, q.resultFlags, q.graticule}
		if err := lines.check(); err != nil {
			return calibration{}, err
		}
		return lines.calibrate()
	}
	file := locateRequest{pictureFlags: q.pictureFlags, namingFlags: q.namingFlags, resultFlags: q.resultFlags, grid: q.grid}
	return file.calibrate()
}

// write writes the rectified map, its world file and its grid.
func (q *rectifyRequest) write(c *calibration, s streams) error {
	picture, err := q.pictureOf(*c)
	if err != nil {
		return err
	}
	sheet := rectify.Sheet{
		Name: filepath.Base(q.picture), Width: c.header.Width, Height: c.header.Height, Cut: rectify.CutOf(picture), Grey: rectify.GreyOf(picture),
		System: c.system, Calibration: c.fit, Verdict: c.verdict, FileCautions: c.fileCautions(), DPI: c.header.DPI,
	}
	own := c.verdict.CautionsWith(c.fit)
	for _, n := range c.cautions {
		if !slices.Contains(own, n) {
			sheet.Cautions = append(sheet.Cautions, n.Text())
		}
	}
	frame, err := rectify.FrameOf(c.fit, sheet.Width, sheet.Height, q.metresPerPixel.value)
	// A decoded picture is most of the heap: without this as much garbage again
	// would gather beside it.
	defer debug.SetGCPercent(debug.SetGCPercent(rectifyGC))
	if err == nil {
		err = rectify.Save(context.Background(), q.out, sheet, frame, false, nil)
	}
	if err != nil {
		return fmt.Errorf("--out %s: %w", q.out, err)
	}
	c.rectified = &rectified{q.out, rectify.GridFile(q.out, c.system), frame, sheet.Words(frame)}
	return nil
}

// pictureOf returns the sheet's picture, and opens it if only its header was read.
func (q *rectifyRequest) pictureOf(c calibration) (image.Image, error) {
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
	if c.file == nil {
		return ""
	}
	return c.file.georef.Cautions
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
	t.line("rectified", "%s with %s, %d × %d pixels of map; below the map it says:", w.file, beside, w.frame.Cols, w.frame.Rows)
	for _, text := range w.words {
		t.line("", "%s", text)
	}
}
