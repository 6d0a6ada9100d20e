package leg

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"sync"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/calib/slips"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// judged is the verdicts of a plan's sheets, worked out when one is first asked for.
type judged struct {
	once sync.Once
	list []check.Verdict
}

// Verdict says whether evidence checks a sheet, to how many metres, and what speaks
// against it. A sheet that is not in the plan is unchecked.
func (r *Reader) Verdict(sheet plan.ID) check.Verdict {
	for i := range r.sheets {
		if r.sheets[i].id == sheet {
			return r.verdicts()[i]
		}
	}
	return ofNone()
}

// ofNone is the verdict on a sheet that is not calibrated.
func ofNone() check.Verdict { return check.Judge(check.Input{Sheets: []check.Sheet{{}}})[0] }

func (r *Reader) verdicts() []check.Verdict { return r.judgedAfter(nil, judging{}) }

// judgedAfter is the verdicts, taken over from an older reader for sheets that are the
// same there on the same grid: judging hundreds of control points takes tens of
// milliseconds. While sheets are moving the others wait.
func (r *Reader) judgedAfter(old *Reader, how judging) []check.Verdict {
	r.judged.once.Do(func() {
		if how.moving {
			r.judged.list = r.waiting(old)
			return
		}
		in := r.evidence(old)
		in.Stop = how.stop
		r.judged.list = check.Judge(in)
	})
	return r.judged.list
}

// known is the verdict of a sheet, nil where it is not the same sheet on that grid or
// not judged there.
func (r *Reader) known(s plan.Sheet, grid geodesy.Code) *check.Verdict {
	if r == nil || r.p == nil || r.p.Code() != grid {
		return nil
	}
	i := slices.IndexFunc(r.p.Sheets, func(o plan.Sheet) bool { return o.Same(s) })
	if i < 0 {
		return nil
	}
	if v := &r.verdicts()[i]; !v.Waits {
		return v
	}
	return nil
}

// evidence is what the sheets are judged by.
func (r *Reader) evidence(old *Reader) check.Input {
	sys := r.System()
	in := check.Input{Names: wrongNames(sys)}
	for i, s := range r.p.Sheets {
		known := &r.sheets[i]
		one := judgedSheet(known.c, sys, s.Evidence)
		one.ID, one.Name, one.Width, one.Height = string(s.ID), known.name, s.Width, s.Height
		one.ByFile, one.Chosen = s.RestsOnFile(), s.SlipChosen
		one.FileStop = one.ByFile && caution.Stops(caution.Parse(s.FileCautions), caution.All)
		if one.Known = old.known(s, r.p.Code()); restsOnHeights(s) {
			if old == nil || old.model != r.model {
				one.Known = nil
			}
			if r.model != nil {
				one.Ground, one.PostM, one.ContourM = r.model.On(sys).Quick().Height, r.model.SpacingM(), s.Contour
			}
		}
		in.Sheets = append(in.Sheets, one)
	}
	return in
}

// restsOnHeights reports whether heights read off contours are evidence of a sheet.
func restsOnHeights(s plan.Sheet) bool {
	return slices.ContainsFunc(s.Evidence, func(e calib.Evidence) bool { return e.Source == calib.FromTerrain })
}

// Single is a calibration that is no sheet of a plan.
type Single struct {
	Calibration   *calib.Calibration
	System        *geodesy.System
	Width, Height int    // of the picture in pixels
	ByFile        bool   // a file gave the calibration
	FileCautions  string // what that file says against it, see caution.Format
	Evidence      []calib.Evidence
}

// Judge is Verdict for a calibration by itself.
func Judge(s Single) check.Verdict {
	one := judgedSheet(s.Calibration, s.System, s.Evidence)
	one.Width, one.Height, one.ByFile = s.Width, s.Height, s.ByFile
	one.FileStop = s.ByFile && caution.Stops(caution.Parse(s.FileCautions), caution.All)
	return check.Judge(check.Input{Sheets: []check.Sheet{one}, Names: wrongNames(s.System)})[0]
}

// judgedSheet is a calibration with its control points' figures and its evidence.
func judgedSheet(c *calib.Calibration, sys *geodesy.System, evidence []calib.Evidence) check.Sheet {
	out := check.Sheet{Fit: c}
	if c == nil || sys == nil {
		return out
	}
	out.Unit, out.Coords, out.Lettered = unitWord(sys), coordsOf(c.Points(), sys), anyLettered(c.Points(), sys)
	out.Misquoted = misquoted(c.Points(), sys)
	for _, e := range evidence {
		out.Evidence = append(out.Evidence, readEvidence(e, sys))
	}
	return out
}

// datumApartM is more than any datum moves ground: latitude and longitude of a control
// point may be on either of two.
const datumApartM = 1500

// misquoted names the first typed control point that lies elsewhere than its reference
// says, as in a plan file that was changed by hand: a person compares the reference with
// the map, and bearings come from the position. "" where there is none.
func misquoted(points []calib.ControlPoint, sys *geodesy.System) string {
	for i, p := range points {
		ref, err := geodesy.ParseRef(p.Text, geodesy.RefContext{System: sys, Near: &p.Ref})
		if p.Source != calib.TypedPoint || err != nil {
			continue
		}
		allowed := 1 + 2*ref.SquareM
		if ref.Kind == geodesy.RefLatLon {
			allowed = datumApartM
		}
		if off := math.Hypot(ref.Grid.E-p.Ref.E, ref.Grid.N-p.Ref.N); off > allowed {
			return "control point " + strconv.Itoa(i+1) + ": the plan puts it " + units.Grouped(off) + " m from its reference “" + p.Text + "”"
		}
	}
	return ""
}

// lettered reports whether a reference was typed with letters of its grid.
func lettered(ref geodesy.Ref) bool {
	return ref.LettersGiven && (ref.Kind == geodesy.RefLetters || ref.Kind == geodesy.RefMGRS)
}

func anyLettered(points []calib.ControlPoint, sys *geodesy.System) bool {
	return slices.ContainsFunc(points, func(p calib.ControlPoint) bool {
		ref, err := geodesy.ParseRef(p.Text, geodesy.RefContext{System: sys, Near: &p.Ref})
		return p.Source == calib.TypedPoint && err == nil && (lettered(ref) || ref.Kind == geodesy.RefLatLon)
	})
}

func unitWord(sys *geodesy.System) string {
	switch sys.Unit().Name {
	case "metre", "":
		return ""
	case "degree":
		return "°"
	}
	return "ft"
}

// coordsOf returns the figures of control points as they were typed.
func coordsOf(points []calib.ControlPoint, sys *geodesy.System) []slips.Coords {
	out := make([]slips.Coords, len(points))
	for i, p := range points {
		out[i] = coordsAt(p, sys)
	}
	return out
}

func coordsAt(p calib.ControlPoint, sys *geodesy.System) slips.Coords {
	ref, err := geodesy.ParseRef(p.Text, geodesy.RefContext{System: sys, Near: &p.Ref})
	if err == nil && ref.Kind == geodesy.RefLatLon {
		if c, ok := minutesAt(p.Ref, sys); ok {
			return c
		}
	}
	e, n := sys.InUnits(p.Ref)
	unit := sys.Unit().Metres
	return slips.Coords{U: e, V: n, PerU: [2]float64{unit, 0}, PerV: [2]float64{0, unit}}
}

// minutesAt are the longitude and latitude of a position in minutes, on WGS 84 or on
// the grid's own datum: on which they are the rounder figures.
func minutesAt(g geodesy.Grid, sys *geodesy.System) (slips.Coords, bool) {
	wgs, _, err := sys.ToWGS84(g)
	own, _, errOwn := sys.Unproject(g)
	if err != nil || errOwn != nil {
		return slips.Coords{}, false
	}
	uneven := func(at geodesy.LatLon) float64 {
		return math.Abs(math.Remainder(60*at.Lat.Deg(), 0.5)) + math.Abs(math.Remainder(60*at.Lon.Deg(), 0.5))
	}
	at := wgs
	if uneven(own) < uneven(wgs) {
		at = own
	}
	c := slips.Coords{U: 60 * at.Lon.Deg(), V: 60 * at.Lat.Deg(), LatLon: true}
	east, _, errE := sys.Project(geodesy.DegLatLon(own.Lat.Deg(), own.Lon.Deg()+1.0/60))
	north, _, errN := sys.Project(geodesy.DegLatLon(own.Lat.Deg()+1.0/60, own.Lon.Deg()))
	c.PerU, c.PerV = [2]float64{east.E - g.E, east.N - g.N}, [2]float64{north.E - g.E, north.N - g.N}
	return c, errE == nil && errN == nil
}

// readEvidence is evidence with what its reference may mean on the grid. The text is read
// again: what a file says beside it is not believed.
func readEvidence(e calib.Evidence, sys *geodesy.System) check.Evidence {
	out := check.Evidence{Evidence: e}
	if e.SquareM > 0 || e.Source == calib.FromSheet {
		return out
	}
	if e.Source == calib.FromTerrain {
		var err error
		if out.HeightM, err = plan.ReadHeight(e.Text); err != nil {
			out.Why = err.Error()
		}
		return out
	}
	again, err := plan.ReadEvidence(e.Source, e.Text, sys, &e.Ref)
	if err != nil {
		out.Why = err.Error()
		return out
	}
	if out.LatLon = again.LatLon; again.LatLon {
		meanings, _ := plan.LatLonPositions(e.Source, e.Text, sys)
		for _, p := range meanings {
			out.Meanings = append(out.Meanings, check.Meaning{Ref: p.Grid, SigmaM: p.SigmaM, Own: p.Own})
		}
		return out
	}
	out.Meanings = []check.Meaning{{Ref: again.Ref, SigmaM: again.SigmaRefM}}
	if ref, err := geodesy.ParseRef(e.Text, geodesy.RefContext{System: sys, Near: &e.Ref}); err == nil {
		out.Corner, out.Zone, out.Unlettered = ref.Grid, ref.Kind == geodesy.RefMGRS, !ref.LettersGiven
		out.Letters = lettered(ref)
	}
	return out
}

// zonePattern finds the number of a grid's zone in its name.
var zonePattern = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`zone (\d+)`) })

// wrongNames are the names that a map's grid may have instead of the one it was
// given: the zones beside it and the other hemisphere.
func wrongNames(sys *geodesy.System) []check.Name {
	if sys == nil {
		return nil
	}
	zone := zonePattern().FindStringSubmatch(sys.Name())
	if zone == nil && !sys.Code().Defined() {
		return nil
	}
	var out []check.Name
	words := func(step int) string {
		if zone == nil {
			return "the grid has another central meridian"
		}
		n, _ := strconv.Atoi(zone[1])
		return "the zone is " + strconv.Itoa(n+step) + ", not " + zone[1]
	}
	for _, step := range []int{-1, 1} {
		out = append(out, check.Name{Words: words(step), On: func(g geodesy.Grid) (geodesy.Grid, bool) { return zoneBeside(sys, step, g) }})
	}
	return append(out, check.Name{Words: "the grid is for the other hemisphere", On: func(g geodesy.Grid) (geodesy.Grid, bool) {
		return geodesy.Grid{E: g.E, N: g.N + hemisphereM}, true
	}})
}

const (
	hemisphereM = 1e7 // between the northings of both hemispheres in UTM
	zoneDeg     = 6   // of longitude between zones of UTM
)

// zoneBeside is where ground lies in the next zone: of the catalogue, or one whose
// meridian lies six degrees beside.
func zoneBeside(sys *geodesy.System, step int, g geodesy.Grid) (geodesy.Grid, bool) {
	at, _, err := sys.Unproject(g)
	if err != nil {
		return g, false
	}
	if beside, err := geodesy.Lookup(geodesy.EPSG(sys.EPSG() + step)); err == nil && sys.EPSG() != 0 && sameFamily(sys, beside) {
		on, _, err := beside.Project(at)
		return on, err == nil
	}
	on, _, err := sys.Project(geodesy.DegLatLon(at.Lat.Deg(), at.Lon.Deg()-float64(zoneDeg*step)))
	return on, err == nil
}

func sameFamily(a, b *geodesy.System) bool {
	zoned := zonePattern()
	return zoned.ReplaceAllString(a.Name(), "") == zoned.ReplaceAllString(b.Name(), "")
}

// sameSheets reports whether two plans have the same sheets on the same grid, so that
// the verdicts of one are those of the other.
func sameSheets(p, q *plan.Plan) bool {
	return p != nil && p.Code() == q.Code() && slices.EqualFunc(p.Sheets, q.Sheets, plan.Sheet.Same)
}
