package headless

import (
	"fmt"
	"math"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
)

// located is a point of the picture, one --at or a corner, with its position.
type located struct {
	at    calib.PicturePt
	grid  geodesy.Grid
	wgs   geodesy.LatLon
	shift geodesy.Shift // that was used
	cov   calib.Cov2

	trusted   bool // the control points agree and reach there
	unsized   bool // nobody knows whether they reach there: the picture's size is not given
	unit      geodesy.Unit
	reached   bool    // they reach there
	outsidePx float64 // how far it lies outside them
	inArea    bool    // the grid is meant for it

	contradicted bool // the printed grid, or what was read off it, contradicts the file that positions it
}

func convert(c *calib.Calibration, system *geodesy.System, at []calib.PicturePt) ([]located, error) {
	positions := make([]located, 0, len(at))
	for _, p := range at {
		g := c.ToGrid(p)
		wgs, shift, err := system.ToWGS84(g)
		if err != nil {
			return nil, fmt.Errorf("--at %g,%g: %w", p.Col, p.Row, err)
		}
		own, _, err := system.Unproject(g)
		ok, outside := c.Trusted(p)
		positions = append(positions, located{
			at: p, grid: g, wgs: wgs, shift: shift, cov: c.Covariance(p, 0), trusted: ok && !contradict(c), reached: ok, outsidePx: outside,
			inArea: err == nil && system.Contains(own), unit: system.Unit(),
		})
	}
	return positions, nil
}

// contradict reports whether the control points contradict each other.
func contradict(c *calib.Calibration) bool { return caution.Stops(c.Cautions(), caution.Position) }

// positionCautions speak of positions outside the area that the grid is meant for, and
// where the datum shift is coarse or unknown; each appears once.
func positionCautions(system *geodesy.System, positions []located) []caution.Caution {
	var out []caution.Caution
	worst := geodesy.Shift{}
	for _, p := range positions {
		if !p.inArea && len(out) == 0 {
			own, _, _ := system.Unproject(p.grid)
			out = append(out, leg.OutsideArea(fmt.Sprintf("the position at %g,%g", p.at.Col, p.at.Row), system, own))
		}
		if p.shift.Unknown || p.shift.SigmaM > worst.SigmaM && !worst.Unknown {
			worst = p.shift
		}
	}
	return append(out, shiftCautions(worst)...)
}

// shiftCautions say of latitude and longitude how far they may be out.
func shiftCautions(s geodesy.Shift) []caution.Caution {
	if c, ok := leg.CoarseShift(s); ok {
		return []caution.Caution{c}
	}
	return nil
}

// fresh are the cautions whose code is not among others.
func fresh(list, others []caution.Caution) []caution.Caution {
	known := map[caution.Code]bool{}
	for _, n := range others {
		known[n.Code] = true
	}
	var out []caution.Caution
	for _, n := range list {
		if !known[n.Code] {
			out = append(out, n)
		}
	}
	return out
}

func (p located) object() object {
	var trusted any = p.trusted
	if p.trusted && p.unsized {
		trusted = nil
	}
	return object{
		{"easting_m", number(p.grid.E)},
		{"northing_m", number(p.grid.N)},
		{"lat_deg", number(p.wgs.Lat.Deg())},
		{"lon_deg", number(p.wgs.Lon.Deg())},
		{"sigma_e_m", number(math.Sqrt(p.cov.EE))},
		{"sigma_n_m", number(math.Sqrt(p.cov.NN))},
		{"cov_en_m2", number(p.cov.EN)},
		{"trusted", trusted},
		{"outside_points_px", number(p.outsidePx)},
	}
}

// onGrid writes easting and northing in the printed unit of the grid, metres on
// a grid of degrees, and names any but plain metres.
func (p located) onGrid() string {
	perUnit, unit := p.unit.Metres, ""
	switch p.unit.Name {
	case "metre":
	case "degree":
		perUnit, unit = 1, " metres along the grid"
	default:
		unit = " in " + p.unit.Plural()
	}
	return fmt.Sprintf("%.1f E ± %.1f, %.1f N ± %.1f%s",
		p.grid.E/perUnit, 2*math.Sqrt(p.cov.EE)/perUnit, p.grid.N/perUnit, 2*math.Sqrt(p.cov.NN)/perUnit, unit)
}

// line writes the position into a table, ± twice the standard deviation, with what is
// wrong with it.
func (p located) line(t *table) {
	latLon := geodesy.FormatLatLon(p.wgs)
	switch {
	case p.shift.Unknown:
		latLon += " ± hundreds of metres"
	case p.shift.SigmaM > coarseM:
		latLon += fmt.Sprintf(" ± %.0f m", 2*p.shift.SigmaM)
	}
	t.line(fmt.Sprintf("at %g,%g", p.at.Col, p.at.Row), "%s, %s", p.onGrid(), latLon)
	switch {
	case !p.reached && p.outsidePx == 0:
		t.line("", "do not trust this: a photograph needs five control points")
	case !p.reached:
		t.line("", "do not trust this: it is %.0f pixels outside the control points", p.outsidePx)
	case p.contradicted:
		t.line("", "do not trust this: the printed grid, a named intersection or a check contradicts the position in the file")
	case !p.trusted:
		t.line("", "do not trust this: the control points contradict each other, or the picture is mirrored")
	case p.unsized:
		t.line("", "give --picture too: its size shows whether the control points reach this far")
	}
	if !p.inArea {
		t.line("", "outside the area that the grid is meant for")
	}
}
