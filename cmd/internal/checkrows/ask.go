package main

import (
	"math"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
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
		Photo: s.Paper.Photo(), Code: s.Code,
	}
	for _, p := range s.Points {
		out.Points = append(out.Points, calib.ControlPoint{At: picturePt(p.At), Ref: geodesy.Grid(p.Ref), Text: p.Text})
	}
	return out
}

func picturePt(p checksheet.Pt) calib.PicturePt { return calib.PicturePt{Col: p.X, Row: p.Y} }

// evidenceOf is made evidence as the program reads its text.
func evidenceOf(sheet plan.Sheet, v checksheet.Evidence) (check.Evidence, error) {
	e := check.Evidence{Evidence: calib.Evidence{Source: calib.EvidenceSource(v.Source), At: picturePt(v.At), Text: v.Text, LatLon: v.Kind.LatLon()}}
	if e.LatLon {
		places, err := sheet.MarginPlaces(v.Text)
		for _, p := range places {
			e.Places = append(e.Places, check.Place{Ref: p.Grid, SigmaM: p.SigmaM, Own: p.Own})
		}
		return e, err
	}
	sys, err := geodesy.Lookup(sheet.Code)
	if err != nil {
		return e, err
	}
	ref, err := geodesy.ParseRef(v.Text, geodesy.RefContext{System: sys})
	if err != nil {
		return e, err
	}
	at, sigma := ref.Centre()
	e.Places, e.Corner, e.Zone = []check.Place{{Ref: at, SigmaM: sigma}}, ref.Grid, ref.Kind == geodesy.RefMGRS
	return e, nil
}

// ask asks the program about a sheet, through the doors that everything else uses.
// Evidence that it refuses to read counts as none.
func ask(s *checksheet.Sheet, evidence ...checksheet.Evidence) answer {
	sheet := sheetOf(s)
	c, err := sheet.Calibration()
	if err != nil {
		return answer{}
	}
	in := check.Sheet{ID: sheetID, Fit: c, Width: sheet.Width, Height: sheet.Height, Chosen: s.Chosen}
	for _, v := range evidence {
		if e, err := evidenceOf(sheet, v); err == nil {
			in.Evidence = append(in.Evidence, e)
		}
	}
	a := answer{c: c, Verdict: check.Judge(check.Input{Sheets: []check.Sheet{in}})[0]}
	for _, w := range c.Warnings() {
		if caution.Of(caution.Code(w.Code)).Stop() {
			a.stops = append(a.stops, w.Code)
		}
	}
	for _, w := range a.Cautions {
		if w.Stop() {
			a.stops = append(a.stops, string(w.Code))
		}
		a.open = a.open || w.Code == caution.OpenSlip
	}
	return a
}

// far is how many times its own 95 % a figure may be off before it counts as off.
const far = 3

// off returns by how many times its stated 95 % the worst trusted position of a mesh
// over the picture is off, or the worst bearing over 500 m or more; 0 where nothing
// is trusted.
func (a answer) off(t *checksheet.Truth) (worst float64) {
	type spot struct {
		at        calib.PicturePt
		got, want geodesy.Grid
	}
	var list []spot
	for _, p := range checksheet.Mesh() {
		at := picturePt(p)
		if ok, _ := a.c.Trusted(at); !ok {
			continue
		}
		s := spot{at, a.c.ToGrid(at), geodesy.Grid(t.Grid(p))}
		list = append(list, s)
		worst = max(worst, apart(s.got, s.want)/a.c.HalfWidth95M(at))
	}
	for i, p := range list {
		q := list[(i+len(list)/2)%len(list)] // across the picture, near places being known alike
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

// chi2 is the 95 % bound of a squared distance in two dimensions, in units of σ².
const chi2 = 5.991

// withinEllipse reports whether an error lies within the ellipse of 95 %.
func withinEllipse(v calib.Cov2, e, n float64) bool {
	det := v.EE*v.NN - v.EN*v.EN
	return (v.NN*e*e-2*v.EN*e*n+v.EE*n*n)/det <= chi2
}
