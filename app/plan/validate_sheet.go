package plan

import (
	"fmt"
	"math"
	"unicode/utf8"

	"legwright/app/calib"
	"legwright/app/geodesy"
)

func (p *Plan) validSheets(grids map[geodesy.Code]string) error {
	seen, grid := map[ID]bool{}, p.Code()
	for i, s := range p.Sheets {
		where := called("sheet", i, "")
		if err := firstOf(where, badID(s.ID, seen), badPicture(s), grids[s.Code], badFit(s), otherGrid(s, grid)); err != nil {
			return err
		}
		for j, c := range s.Points {
			if r := badPoint(c); r != "" {
				return &Invalid{fmt.Sprintf("%s, control point %d", where, j+1), r}
			}
		}
	}
	return nil
}

// otherGrid refuses a sheet on another grid than the plan's: a bearing is measured
// from one grid north, and a plan has one.
func otherGrid(s Sheet, grid geodesy.Code) string {
	if s.Code == "" || s.Code == grid {
		return ""
	}
	return fmt.Sprintf("it is on %s, but the sheets before it are on %s: all sheets of a plan must be on the same grid", s.Code.Name(), grid.Name())
}

// MinContourM and MaxContourM bound the interval of contours in metres.
const (
	MinContourM = 1
	MaxContourM = 500
)

func badPicture(s Sheet) string {
	switch {
	case len(s.Picture) > 4096 || !utf8.ValidString(s.Picture):
		return "the name of its picture is longer than 4096 bytes or not text"
	case s.Width < 0 || s.Height < 0 || s.Width > MaxPixels || s.Height > MaxPixels:
		return fmt.Sprintf("its picture is %d × %d pixels; at most %d are allowed each way", s.Width, s.Height, MaxPixels)
	case len(s.SHA256) != 0 && !isHex64(s.SHA256):
		return "the SHA-256 of its picture is not 64 hexadecimal digits"
	case !(s.DPI >= 0 && s.DPI <= 1e5):
		return fmt.Sprintf("its resolution of %g pixels per inch is not valid", s.DPI)
	case s.Contour != 0 && !(s.Contour >= MinContourM && s.Contour <= MaxContourM):
		return fmt.Sprintf("contours %g m apart are not possible; type %d to %d m", s.Contour, MinContourM, MaxContourM)
	}
	return badPage(s.Page)
}

func isHex64(s string) bool {
	for _, r := range s {
		if (r < '0' || r > '9') && (r < 'a' || r > 'f') {
			return false
		}
	}
	return len(s) == 64
}

// maxWorldM and maxWorldPx bound the σ of a position that a file gives, metres and pixels.
const (
	maxWorldM  = 1e6
	maxWorldPx = 1e4
)

func badFit(s Sheet) string {
	switch {
	case len(s.Points) > MaxPoints:
		return fmt.Sprintf("it has %d control points; at most %d are allowed", len(s.Points), MaxPoints)
	case !s.Medium.Known():
		return fmt.Sprintf("its medium %d is not known", s.Medium)
	case s.Focal != 0 && !(s.Focal >= 0.1 && s.Focal <= 100):
		return fmt.Sprintf("its camera's focal length is %g diagonals of the picture, but must be 0 (unknown) or between 0.1 and 100", s.Focal)
	case !(s.WorldM >= 0 && s.WorldM <= maxWorldM):
		return fmt.Sprintf("the uncertainty of its position in a file is %g m, but must be between 0 and %g", s.WorldM, maxWorldM)
	case !(s.WorldPx >= 0 && s.WorldPx <= maxWorldPx):
		return fmt.Sprintf("the uncertainty of its file's matrix is %g pixels, but must be between 0 and %g", s.WorldPx, float64(maxWorldPx))
	case s.World != nil && !finite(s.World[:]...):
		return "a value of its file's matrix is not a number"
	}
	if r := badEvidence(s.Evidence); r != "" {
		return r
	}
	return badText(s.FileCautions, "caution", MaxNote, false)
}

func badPoint(c calib.ControlPoint) string {
	switch {
	case !finite(c.At.Col, c.At.Row, c.Ref.E, c.Ref.N, c.SigmaPx, c.SigmaRefM):
		return "one of its values is not a number"
	case math.Abs(c.Ref.E) > maxCoordM || math.Abs(c.Ref.N) > maxCoordM:
		return fmt.Sprintf("its coordinates %g %g are not on any grid", c.Ref.E, c.Ref.N)
	case c.SigmaPx < 0 || c.SigmaRefM < 0:
		return "its uncertainty is negative"
	case !c.Source.Known():
		return fmt.Sprintf("its source %q is not known", c.Source)
	}
	return badText(c.Text, "reference", MaxName, false)
}
