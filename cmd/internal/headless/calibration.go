package headless

import (
	"errors"
	"fmt"
	"image"
	"math"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/mapio/scan"
)

// calibration is the result of fit, find-grid, locate and rectify.
type calibration struct {
	fit       *calib.Calibration
	system    *geodesy.System
	positions []located
	cautions  []caution.Caution
	verdict   check.Verdict
	header    scan.Header // of the picture, zero without one
	image     image.Image // the picture, where it was opened

	lattice       *search              // the printed grid, nil if nobody looked
	intersections []calib.ControlPoint // of the lattice, once named
	file          *fromFile            // of locate, or nil
	rectified     *rectified           // of rectify, or nil
}

// gridCautions speak of control points outside the area the grid is meant for,
// and of a grid whose datum shift is coarse or unknown.
func gridCautions(system *geodesy.System, points []calib.ControlPoint) []caution.Caution {
	out := areaCautions(system, points)
	if len(points) > 0 {
		if _, shift, err := system.ToWGS84(points[0].Ref); err == nil {
			out = append(out, shiftCautions(shift)...)
		}
	}
	return out
}

func areaCautions(system *geodesy.System, points []calib.ControlPoint) []caution.Caution {
	for i, p := range points {
		own, _, err := system.Unproject(p.Ref)
		if err != nil || !system.Contains(own) {
			return []caution.Caution{leg.OutsideArea(fmt.Sprintf("control point %d", i+1), system, own)}
		}
	}
	return nil
}

// stopped reports whether evidence or slips forbid to walk on the calibration.
func (c calibration) stopped() bool { return caution.Stops(c.verdict.Cautions, caution.All) }

// finish writes a calibration, or why there is none.
func finish(c calibration, err error, asJSON bool, s streams) error {
	var usage *usageError
	switch {
	case err == nil:
		return writeCalibration(c, asJSON, s)
	case errors.As(err, &usage):
		return err
	}
	speakAll(c.cautions, asJSON, s)
	if asJSON {
		if err := writeNoFit(s, err, c.cautions); err != nil {
			return err
		}
	}
	return err
}

// writeNoFit writes the JSON of points that allow no calibration.
func writeNoFit(s streams, why error, cautions []caution.Caution) error {
	return writeJSON(s.out, object{{"error", why.Error()}, {"cautions", cautionList(cautions)}})
}

func writeCalibration(c calibration, asJSON bool, s streams) error {
	speakAll(c.cautions, asJSON, s)
	if asJSON {
		return writeJSON(s.out, c.object())
	}
	t := c.table()
	return t.write(s.out)
}

func (c calibration) object() object {
	var o object
	if c.file != nil {
		c.file.object(&o, c.system)
	}
	o.add("medium", c.medium())
	m := c.fit.Matrix()
	o.add("matrix", numberList(m[:]))
	o.add("metres_per_pixel", number(c.fit.MetresPerPixel()))
	o.add("rotation_deg", number(c.fit.Rotation().Deg()))
	residuals := []object{}
	for _, r := range c.fit.Residuals() {
		residuals = append(residuals, object{
			{"east_m", number(r.EastM)},
			{"north_m", number(r.NorthM)},
			{"px", number(r.Px)},
		})
	}
	o.add("residuals", residuals)
	o.add("rms_m", number(c.fit.RMSM()))
	o.add("rms_px", number(c.fit.RMSPx()))
	o.add("dof", c.fit.DOF())
	o.add("click_factor", number(c.fit.ClickFactor()))
	o.add("bend_factor", number(c.fit.BendFactor()))
	o.add("checked", checkedObject(c.verdict))
	o.add("cautions", cautionList(c.cautions))
	positions := []object{}
	for _, p := range c.positions {
		positions = append(positions, p.object())
	}
	o.add("at", positions)
	if c.lattice != nil {
		o.add("lattice", c.lattice.object(c.intersections))
	}
	if c.rectified != nil {
		o.add("rectified", c.rectified.object())
	}
	return o
}

// medium is how the picture was made, or "given" for a file's own matrix.
func (c calibration) medium() string {
	if c.fit.Given() {
		return "given"
	}
	return c.fit.Medium().String()
}

func (c calibration) table() table {
	var t table
	m := c.fit.Matrix()
	for i, v := range m {
		m[i] = still(v)
	}
	t.line("grid", "%s", c.system)
	if c.file != nil {
		c.file.lines(&t)
	}
	if c.lattice != nil {
		c.lattice.lines(&t)
	}
	if c.fit.Given() {
		t.line("fit", "none: the file gives the calibration")
	} else {
		t.line("fit", "%s, %d points, %d more than needed", c.medium(), len(c.fit.Points()), c.fit.DOF()/2)
	}
	t.line("easting", "%.9g·col %+.9g·row %+.3f", m[0], m[1], m[2])
	t.line("northing", "%.9g·col %+.9g·row %+.3f", m[3], m[4], m[5])
	t.line("scale", "%.6g m per pixel", c.fit.MetresPerPixel())
	t.line("grid north", "%.4f° clockwise from the top of the picture", c.fit.Rotation().Deg())
	for i, r := range c.fit.Residuals() {
		if c.intersections != nil {
			break // they are in the JSON: a hundred lines would hide the rest
		}
		t.line(fmt.Sprintf("residual %d", i+1), "%+.2f m east, %+.2f m north, %.2f px", still(r.EastM), still(r.NorthM), r.Px)
	}
	if !c.fit.Given() {
		t.line("typical residual", "%.2f m, %.2f px", c.fit.RMSM(), c.fit.RMSPx())
	}
	if f := c.fit.ClickFactor(); f > 1.5 {
		t.line("clicks", "%.1f times less exact than stated, going by the residuals", f)
	}
	if f := c.fit.BendFactor(); f > 1 {
		t.line("bend", "%.0f times as much as usual for paper", f)
	}
	t.line("checked", "%s", checkedWords(c.verdict))
	for _, p := range c.positions {
		p.line(&t)
	}
	if c.rectified != nil {
		c.rectified.lines(&t)
	}
	t.cautions = c.cautions
	return t
}

// still returns 0 for a value that is rounding noise.
func still(v float64) float64 {
	if math.Abs(v) < 1e-9 {
		return 0
	}
	return v
}
