package main

import (
	"math"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/cmd/internal/checksheet"
)

// answer is what the program says of a sheet.
type answer struct {
	check.Verdict
	c     *calib.Calibration // nil where it refuses the points
	stops []string           // codes
	open  bool               // a slip of points or lines is open
}

// told reports whether the program says anything that keeps a person from taking the
// sheet as it is.
func (a answer) told() bool { return a.accused() || a.open }

// accused reports whether the program says that the sheet is wrong.
func (a answer) accused() bool { return a.c == nil || len(a.stops) > 0 }

const sheetID = "made"

// sheetOf is the made sheet as a plan has it.
func sheetOf(s *checksheet.Sheet) plan.Sheet {
	out := plan.Sheet{
		ID: sheetID, Picture: "made.png", Width: checksheet.Width, Height: checksheet.Height,
		Code: s.Code, SlipChosen: s.Chosen,
	}
	if s.Paper.Photo() {
		out.Medium, out.Focal = calib.Photograph, s.FocalPx/math.Hypot(checksheet.Width, checksheet.Height)
	}
	for _, p := range s.Points {
		out.Points = append(out.Points, calib.ControlPoint{At: picturePt(p.At), Ref: geodesy.Grid(p.Ref), Text: p.Text})
	}
	return out
}

func picturePt(p checksheet.Pt) calib.PicturePt { return calib.PicturePt{Col: p.X, Row: p.Y} }

// ask asks the program about a made sheet.
func ask(s *checksheet.Sheet, evidence ...checksheet.Evidence) answer {
	return askSheet(sheetOf(s), evidence...)
}

// askSheet asks the program about a sheet, through the doors that everything else
// uses. Evidence that it refuses to read counts as none.
func askSheet(sheet plan.Sheet, evidence ...checksheet.Evidence) answer {
	sys, err := geodesy.Lookup(sheet.Code)
	if err != nil {
		return answer{}
	}
	for _, v := range evidence {
		if e, err := plan.ReadEvidence(calib.EvidenceSource(v.Source), v.Text, sys, nil); err == nil {
			e.At = picturePt(v.At)
			sheet.Evidence = append(sheet.Evidence, e)
		}
	}
	r, err := leg.NewReader(&plan.Plan{Sheets: []plan.Sheet{sheet}})
	if err != nil {
		return answer{}
	}
	c, err := r.CalibrationOf(sheetID)
	if err != nil {
		return answer{}
	}
	a := answer{c: c, Verdict: r.Verdict(sheetID)}
	for _, w := range a.CautionsWith(c) {
		if w.Stop() && w.Code != caution.PhotoNeedsFive { // says that points are wanted, not that one is wrong
			a.stops = append(a.stops, string(w.Code))
		}
		a.open = a.open || w.Code == caution.OpenSlip
	}
	return a
}

// far is how many times its own 95 % a figure may be off before it counts as off.
const far = 3

// off returns by how many times its stated 95 % the worst trusted position of the probes
// over the picture is off, or the worst bearing over 500 m or more; 0 where nothing
// is trusted.
func (a answer) off(t *checksheet.Truth) (worst float64) {
	type spot struct {
		at        calib.PicturePt
		got, want geodesy.Grid
	}
	var list []spot
	for _, p := range checksheet.Probes() {
		at := picturePt(p)
		if ok, _ := a.c.Trusted(at); !ok {
			continue
		}
		s := spot{at, a.c.ToGrid(at), geodesy.Grid(t.Grid(p))}
		list = append(list, s)
		worst = max(worst, apart(s.got, s.want)/a.c.HalfWidth95M(at))
	}
	for i, p := range list {
		q := list[(i+len(list)/2)%len(list)] // across the picture, near positions being known alike
		if apart(p.want, q.want) < 500 {
			continue
		}
		turn := math.Remainder(bearing(p.got, q.got)-bearing(p.want, q.want), 2*math.Pi)
		worst = max(worst, math.Abs(turn)/(1.96*bearingSigma(a.c.Joint(p.at, q.at, 0, 0), p.got, q.got)))
	}
	return worst
}

func apart(a, b geodesy.Grid) float64 { return math.Hypot(a.E-b.E, a.N-b.N) }

func bearing(a, b geodesy.Grid) float64 { return math.Atan2(b.E-a.E, b.N-a.N) }

// bearingSigma propagates the joint covariance of two positions to the bearing from
// one to the other.
func bearingSigma(j calib.Cov4, a, b geodesy.Grid) float64 {
	d2 := math.Pow(apart(a, b), 2)
	e, n := (b.E-a.E)/d2, (b.N-a.N)/d2
	g := [4]float64{-n, e, n, -e}
	var v float64
	for i := range g {
		for k := range g {
			v += g[i] * j[i][k] * g[k]
		}
	}
	return math.Sqrt(max(v, 0))
}
