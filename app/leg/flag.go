package leg

import (
	"errors"
	"fmt"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/geomag"
	"legwright/app/plan"
	"legwright/app/units"
)

// Flag says why a reading cannot be trusted fully. Code is stable; Text is a
// sentence for people.
type Flag struct{ Code, Text string }

// The codes of flags.
const (
	Uncalibrated  = "uncalibrated"       // a picked end on a sheet that has no calibration now
	SheetUnproved = "sheet-unproved"     // nothing independent shows the calibration right
	Contradicted  = "place-contradicted" // the printed grid contradicts the place that the sheet's file gives
	NoRedundancy  = "no-redundancy"      // two points fit each other whatever they are
	SheetWarning  = "sheet-warning"      // the calibration's own checks found something
	OutsideModel  = "outside-model"      // no magnetic model for the date
	BlackoutZone  = "blackout-zone"      // a compass must not be used here
	CautionZone   = "caution-zone"       // a compass may err widely here
	OutsideArea   = "outside-area"       // the grid is not meant for this place
	ShortLeg      = "short-leg"          // too short for so coarse a reading
	CoarseShift   = "coarse-shift"       // latitude and longitude are off by metres
	ShiftUnknown  = "shift-unknown"      // nothing is known of the grid's datum: latitude and longitude are worth little
	HousingOff    = "housing-off"        // the housing is set to another angle than today's
	LettersLent   = "letters-supplied"   // a reference typed without letters, which came from a sheet that is not proved
	ImportedDoubt = "imported-doubt"     // the file that a place was read from says something against it
	OutsidePoints = "outside-points"     // picked beyond the control points of a fit that bends
	BentGrid      = "bent-grid"          // the grid does not keep angles: measure nothing on the sheet
)

// Limits that raise flags.
const (
	shortLegSigmaDeg = 5.0 // σ of the bearing above which a leg is called short
	coarseShiftM     = 1.0 // σ of a datum shift above which it is told
)

// sheetFlags returns what is to be said of every reading from a sheet.
func sheetFlags(s plan.Sheet, c *calib.Calibration) []Flag {
	if c == nil {
		return []Flag{{Uncalibrated, "the sheet it was picked on is not calibrated now: these coordinates are left from before"}}
	}
	var out []Flag
	if c.DOF() == 0 && !c.Given() {
		out = append(out, Flag{NoRedundancy, "the calibration has no point to spare: a misread reference would not show"})
	}
	if w, contradicted := s.Contradicted.Warning(); contradicted {
		out = append(out, Flag{Contradicted, w.Text})
	}
	if !s.Proof.Proved() {
		out = append(out, Flag{SheetUnproved, "the sheet is unproved: nothing independent shows that its calibration is right"})
	}
	for _, w := range c.Warnings() {
		switch w.Code {
		case calib.CodeNoRedundancy, calib.CodeUnproved: // said above
		case calib.CodeShortReach: // said by outsideFlag, of the readings it concerns
		default:
			out = append(out, Flag{SheetWarning, w.Text})
		}
	}
	return out
}

// goneFlags is sheetFlags for a sheet that is in the plan no more.
func goneFlags() []Flag {
	return []Flag{{Uncalibrated, "the sheet it was picked on is not in the plan any more: these coordinates are left from before"}}
}

// ofSheet says in flags which of several sheets is meant.
func ofSheet(name string, flags []Flag) []Flag {
	out := make([]Flag, len(flags))
	for i, f := range flags {
		out[i] = Flag{f.Code, name + ": " + f.Text}
	}
	return out
}

// anEnd is what the flags of a leg call the end that they are about.
const anEnd = "an end"

// outsideFlag warns of a place picked, or hanging, where the control points do
// not reach; what says what the place is.
func outsideFlag(what string, ends ...place) []Flag {
	for _, p := range ends {
		if p.sheet == nil || p.sheet.c == nil {
			continue
		}
		at := p.pos.At
		if p.pos.Hangs() {
			at = p.sheet.c.ToPicture(p.grid)
		}
		if ok, px := p.sheet.c.Trusted(at); !ok {
			return []Flag{{OutsidePoints, fmt.Sprintf("%s lies %.0f pixels outside the control points, where the calibration is a guess: add a control point beyond it", what, px)}}
		}
	}
	return nil
}

func modelFlag(date plan.Date, err error) Flag {
	if date.IsZero() {
		return Flag{OutsideModel, "no date is set, so there is no magnetic bearing: set the day of the outing"}
	}
	var outside *geomag.OutsideModel
	if errors.As(err, &outside) {
		return Flag{OutsideModel, fmt.Sprintf("no magnetic bearing for %s: the model holds from %.1f to %.1f", date, outside.From, outside.To)}
	}
	return Flag{OutsideModel, "no magnetic bearing: " + err.Error()}
}

func zoneFlag(z geomag.Zone) (Flag, bool) {
	switch z {
	case geomag.Blackout:
		return Flag{BlackoutZone, "the earth's horizontal field is too weak here: a compass must not be used"}, true
	case geomag.Caution:
		return Flag{CautionZone, "the earth's horizontal field is weak here: a compass may err widely"}, true
	}
	return Flag{}, false
}

func areaFlag(what string, s *geodesy.System) Flag {
	return Flag{OutsideArea, fmt.Sprintf("%s lies outside the area of %s (%s)", what, s.Name(), s.AreaWords())}
}

func shortFlag(sigma units.Angle) Flag {
	return Flag{ShortLeg, fmt.Sprintf("the leg is too short for its ends: its bearing is known to ± %.0f° only", 2*sigma.Deg())}
}

func shiftFlag(s geodesy.Shift) Flag {
	if s.Unknown {
		return Flag{ShiftUnknown, s.Name + ": latitude and longitude, and what a receiver is told, may be off by hundreds of metres; bearings and distances on the sheet hold"}
	}
	return Flag{CoarseShift, fmt.Sprintf("latitude and longitude may be off by %.0f m: %s", 2*s.SigmaM, s.Name)}
}
