package leg

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/geomag"
	"legwright/app/plan"
	"legwright/app/units"
)

// Limits above which cautions are raised.
const (
	vagueDeg     = 10.0 // 95 % half width of a bearing that nobody can walk on
	roughDeg     = 3.0  // that of one to be careful with: a good party holds ± 3° (common practice, no source)
	coarseShiftM = 1.0  // σ of a datum shift, metres
	edgeDeg      = 1.0  // how far outside its area a grid is still printed, on sheets along the edge of a zone
)

// sheetCautions returns what speaks against everything picked on a sheet.
func sheetCautions(s plan.Sheet, c *calib.Calibration, v check.Verdict) []caution.Caution {
	if c == nil {
		return []caution.Caution{caution.Of(caution.Uncalibrated)}
	}
	own := v.CautionsWith(c)
	out := caution.OfGrade(own, caution.Stop)
	if list := caution.Parse(s.FileCautions); s.RestsOnFile() && caution.Stops(list, caution.All) {
		out = append(out, caution.Of(caution.ImportedStop, strings.Join(caution.Shorts(list), ", ")).About("this sheet"))
	}
	for _, k := range caution.OfGrade(own, caution.Note) {
		if k.Code != caution.ShortReach { // said by outsideCaution of the positions it concerns
			out = append(out, k)
		}
	}
	return out
}

// goneCautions is sheetCautions for a sheet that is no longer in the plan.
func goneCautions() []caution.Caution { return []caution.Caution{caution.Of(caution.SheetGone)} }

// aboutSheet names the sheet in its cautions, where a plan has several.
func aboutSheet(name string, list []caution.Caution) []caution.Caution {
	out := make([]caution.Caution, len(list))
	for i, c := range list {
		out[i] = c.About(name)
	}
	return out
}

// anEnd is the subject of cautions about one end of a leg.
const anEnd = "one end"

// outsideCaution is the caution of a position that was picked on a sheet, or derived
// from it, where its control points do not reach. subject says what the position is.
func outsideCaution(subject string, ends ...position) []caution.Caution {
	for _, p := range ends {
		if p.sheet == nil || p.sheet.c == nil {
			continue
		}
		at := p.pos.At
		if p.pos.DerivedFromSheet() {
			at = p.sheet.c.ToPicture(p.grid)
		}
		if ok, px := p.sheet.c.Trusted(at); !ok {
			return []caution.Caution{caution.Of(caution.OutsidePoints, fmt.Sprintf("%.0f px", px)).About(subject)}
		}
	}
	return nil
}

// noField says why there is no magnetic model for a date.
func noField(date plan.Date, err error) caution.Caution {
	if date.IsZero() {
		return caution.Of(caution.NoDate)
	}
	reach := "other years"
	var outside *geomag.OutsideModel
	if errors.As(err, &outside) {
		reach = outside.Days()
	}
	return caution.Of(caution.OutsideModel, date.Words(), reach)
}

// zoneCaution returns the caution of a zone of the magnetic field, if it has one.
func zoneCaution(z geomag.Zone) (c caution.Caution, ok bool) {
	switch z {
	case geomag.Blackout:
		return caution.Of(caution.BlackoutZone), true
	case geomag.Caution:
		return caution.Of(caution.WeakField), true
	}
	return c, false
}

// OutsideArea returns the caution of a position outside the area of its grid: a
// little outside, where sheets are still printed on it, or far. at is on the grid's
// own datum.
func OutsideArea(subject string, s *geodesy.System, at geodesy.LatLon) caution.Caution {
	code := caution.OutsideArea
	for _, step := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		if s.Contains(geodesy.DegLatLon(at.Lat.Deg()+step[0]*edgeDeg, at.Lon.Deg()+step[1]*edgeDeg)) {
			code = caution.AreaEdge
		}
	}
	return caution.Of(code, s.Name(), s.AreaWords()).About(subject)
}

// vague returns the caution of a bearing by its σ, if it needs one. A σ that is no
// number says that nothing is known.
func vague(sigma units.Angle) (c caution.Caution, ok bool) {
	half := 2 * sigma.Deg()
	switch {
	case half <= roughDeg:
		return c, false
	case half <= vagueDeg:
		return caution.Of(caution.RoughBearing, fmt.Sprintf("%.0f°", math.Ceil(half-1e-9))), true
	case half < 180:
		return caution.Of(caution.VagueBearing, fmt.Sprintf("%.0f°", math.Ceil(half-1e-9))), true
	}
	return caution.Of(caution.VagueBearing, "180°"), true
}

// CoarseShift returns the caution of latitude and longitude that a datum shift gives,
// if they need one.
func CoarseShift(s geodesy.Shift) (c caution.Caution, ok bool) {
	switch {
	case s.Unknown:
		return caution.Of(caution.ShiftUnknown, s.Name), true
	case s.SigmaM > coarseShiftM:
		return caution.Of(caution.CoarseShift, fmt.Sprintf("%.0f m", math.Ceil(2*s.SigmaM)), s.Name), true
	}
	return c, false
}
