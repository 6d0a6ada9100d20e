package headless

import (
	"legwright/app/geodesy"
	"legwright/app/leg"
)

const projectHelp = `
Reads rows "lat lon" in degrees (north and east positive) and writes easting northing
convergence_deg scale for each; with --inverse, reads rows "easting northing" and writes lat
lon convergence_deg scale. Eastings and northings are in the grid's printed unit: metres,
feet, or longitude and latitude in degrees.

With --datum wgs84 (the default) lat and lon are WGS 84, and the grid's datum shift is
applied; with --datum own they are on the grid's own datum. Convergence (grid north
clockwise from true north) and scale are on the grid's own ellipsoid. Outside the area
that the grid is meant for there is a caution; far outside, an error.
`

func projectCommand() command {
	return command{
		name:  "project",
		usage: "--grid GRID [--datum own|wgs84] [--inverse] < ROWS",
		about: "turn latitude and longitude into grid coordinates, or back",
		run:   runProject,
	}
}

// projector converts rows for one grid and datum.
type projector struct {
	system  *geodesy.System
	wgs84   bool
	inverse bool
	notes   *notes
}

func runProject(c command, args []string, s streams) error {
	o := newOptions(c, projectHelp)
	var grid gridFlag
	o.Var(&grid, "grid", gridWords)
	datum := o.String("datum", "wgs84", "the `DATUM` of lat and lon: own or wgs84")
	inverse := o.Bool("inverse", false, "turn grid coordinates into lat and lon")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	system, err := grid.need()
	if err != nil {
		return err
	}
	if *datum != "own" && *datum != "wgs84" {
		return usagef("--datum %q: give own or wgs84", *datum)
	}
	p := &projector{system: system, wgs84: *datum == "wgs84", inverse: *inverse, notes: newNotes(s)}
	return runBatch(s, p.newRow)
}

// newRow makes the rowFunc of one worker, which remembers what it has reported
// of, so that the workers seldom meet at the notes.
func (p *projector) newRow() rowFunc {
	convert, names := p.forward, "lat lon"
	if p.inverse {
		convert, names = p.back, "easting northing"
	}
	saidArea, saidShift := false, false
	return func(dst, line []byte) ([]byte, error) {
		var v [2]float64
		if _, err := numbers(v[:], 2, line, names); err != nil {
			return nil, err
		}
		out, err := convert(v[0], v[1])
		if err != nil {
			return nil, err
		}
		if !saidArea && !p.system.Contains(out.place) {
			saidArea = true
			p.notes.caution("some rows", leg.OutsideArea("a position", p.system, out.place))
		}
		if c, ok := leg.CoarseShift(out.shift); ok && !saidShift {
			saidShift = true
			p.notes.caution("some rows", c)
		}
		return appendRow(dst, out.a, out.b, out.factors.Convergence.Angle().Deg(), out.factors.Scale), nil
	}
}

// coarseM is the σ per axis of a datum shift above which there is a caution: OSTN15
// and the identity lie below.
const coarseM = 1

// converted is the outcome of one row: two coordinates, and the position for the
// question whether it lies in the area of use.
type converted struct {
	a, b    float64
	factors geodesy.Factors
	place   geodesy.LatLon
	shift   geodesy.Shift
}

func (p *projector) forward(lat, lon float64) (converted, error) {
	ll := geodesy.DegLatLon(lat, lon)
	if !p.wgs84 {
		g, f, err := p.system.Project(ll)
		e, n := p.system.InUnits(g)
		return converted{a: e, b: n, factors: f, place: ll}, err
	}
	// The area of use is drawn with kilometres to spare, so that the 100 m
	// between the datums do not matter to it.
	g, f, shift, err := p.system.FromWGS84(ll)
	e, n := p.system.InUnits(g)
	return converted{a: e, b: n, factors: f, place: ll, shift: shift}, err
}

func (p *projector) back(e, n float64) (converted, error) {
	g := p.system.FromUnits(e, n)
	own, f, err := p.system.Unproject(g)
	if err != nil {
		return converted{}, err
	}
	out := converted{factors: f, place: own}
	ll := own
	if p.wgs84 {
		if ll, out.shift, err = p.system.ToWGS84(g); err != nil {
			return converted{}, err
		}
	}
	out.a, out.b = ll.Lat.Deg(), ll.Lon.Deg()
	return out, nil
}
