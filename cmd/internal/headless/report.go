package headless

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"io"
	"path/filepath"
	"time"

	"legwright/app/calib"
	"legwright/mapio/atomicfile"
	"legwright/mapio/openfile"
	"legwright/mapio/report"
	"legwright/mapio/scan"
)

// spare refuses a report in the place of a file that is needed: what it is made
// from, or anything else that is no PDF.
func (q *calibrateRequest) spare() error {
	for _, from := range []string{q.picture, q.points} {
		if from != "" && sameFile(from, q.report) {
			return fmt.Errorf("%s is what the report is made from: name another file for the report", q.report)
		}
	}
	if isFolder(q.report) {
		return fmt.Errorf("%s is a folder: name a file in it for the report", q.report)
	}
	f, err := openfile.Open(q.report)
	if err != nil {
		return nil // nothing is there, or it will be said when it is written
	}
	defer f.Close()
	const mark = "%PDF-"
	head := make([]byte, len(mark))
	if n, _ := io.ReadFull(f, head); n > 0 && string(head[:n]) != mark {
		return fmt.Errorf("%s is there already and is no PDF: name another file for the report", q.report)
	}
	return nil
}

// writeReport writes the page that shows a calibration.
func (q *calibrateRequest) writeReport(c calibration, s streams) error {
	picture, err := q.pictureOf(c)
	if err != nil {
		return err
	}
	sheet := report.Sheet{
		Name: filepath.Base(q.picture), Picture: picture, Width: float64(c.header.Width), Height: float64(c.header.Height),
		System: c.system, Calibration: c.fit, From: c.from(), DPI: q.dpi.value, Made: time.Now(), Version: s.version,
	}
	if sheet.DPI == 0 {
		sheet.DPI = c.header.DPI
	}
	if q.picture == "" {
		sheet.Name = filepath.Base(q.points)
	}
	sheet.Proof, sheet.Contradicted = c.proof(), c.contradiction()
	for _, n := range c.notices {
		if n.Code != calib.CodeUnproved && n.Code != calib.CodePlaceContradicted { // the page says so larger
			sheet.Cautions = append(sheet.Cautions, n.Text)
		}
	}
	var b bytes.Buffer
	if err := report.Write(&b, sheet); err != nil {
		return fmt.Errorf("--report: %w", err)
	}
	return atomicfile.WriteBytes(q.report, atomicfile.Options{}, b.Bytes())
}

// pictureOf is the picture of the sheet, opened where it was only looked at,
// and nil without one.
func (q *calibrateRequest) pictureOf(c calibration) (image.Image, error) {
	if c.image != nil || q.picture == "" {
		return c.image, nil
	}
	fsys, name := openfile.Picked(q.picture)
	pic, err := scan.Open(context.Background(), fsys, name, q.drawing())
	if err != nil {
		return nil, fmt.Errorf("picture: %w", err)
	}
	return pic.Image, nil
}

// from says in words what the calibration was made from.
func (c calibration) from() string {
	switch {
	case c.placed != nil:
		return "from " + c.placed.place.Source
	case len(c.crossings) > 0:
		return fmt.Sprintf("from %d crossings of the printed grid", len(c.crossings))
	}
	return fmt.Sprintf("from %d control points", len(c.fit.Points()))
}
