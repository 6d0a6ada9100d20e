package headless

import (
	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/units"
)

// readingObject is a reading as a JSON object: the keys of the sight command.
// Magnetic figures that must not be shown are null, and cautions say why.
func readingObject(r leg.Reading, cautions []caution.Caution) object {
	var o object
	magnetic := func(key string, v, sigma units.Angle) {
		if r.HasMagnetic {
			o.figure(key, v.Deg(), sigma.Deg())
		} else {
			o.absent(key)
		}
	}
	o.figure("grid_bearing_deg", r.Grid.Angle().Deg(), r.BearingSigma.Deg())
	o.figure("true_bearing_deg", r.True.Angle().Deg(), r.TrueSigma.Deg())
	magnetic("magnetic_bearing_deg", r.Magnetic.Angle(), r.MagneticSigma)
	o.figure("back_grid_bearing_deg", r.Back.Angle().Deg(), r.BearingSigma.Deg())
	magnetic("back_magnetic_bearing_deg", r.BackMagnetic.Angle(), r.BackMagneticSigma)
	o.figure("convergence_deg", r.Convergence.Angle().Deg(), r.ConvergenceSigma.Deg())
	magnetic("declination_deg", r.Declination.Angle(), r.DeclinationSigma)
	magnetic("grid_magnetic_angle_deg", r.GMA.Angle(), r.DeclinationSigma)
	o.figure("point_scale", r.PointScale, r.PointScaleSigma)
	o.figure("grid_distance_m", r.GridM, r.DistanceSigmaM)
	o.figure("ground_distance_m", r.GroundM, r.DistanceSigmaM)
	o.add("sixteen_point", r.Point)
	o.add("datum_shift", r.Shift)
	o.add("cautions", cautionList(cautions))
	return o
}

// readingTable adds the lines of a reading to a table. The figures close in
// the head at the decimals shown: true = grid + convergence and
// magnetic = grid − GMA, on the way back with the far end's own GMA; --json
// gives them in full.
func readingTable(t *table, r leg.Reading) {
	d := degreesFor(max(r.BearingSigma, r.MagneticSigma))
	grid, north := d.steps(r.Grid.Angle()), d.steps(r.True.Angle())
	t.line("grid bearing", "%s", d.bearing(grid, "grid", r.BearingSigma))
	if r.HasMagnetic {
		magnetic := d.steps(r.Magnetic.Angle())
		gma := d.between(magnetic, grid)
		t.line("grid-magnetic angle", "%s: %s", d.side(gma, r.DeclinationSigma), rule(gma))
		t.line("magnetic bearing", "%s", d.bearing(magnetic, "mag", r.MagneticSigma))
	} else {
		t.line("magnetic bearing", "none")
	}
	back := d.steps(r.Back.Angle())
	t.line("back bearing", "%s", d.bearing(back, "grid", r.BearingSigma))
	if r.HasMagnetic {
		magnetic := d.steps(r.BackMagnetic.Angle())
		t.line("back bearing", "%s (grid-magnetic angle there: %s)",
			d.bearing(magnetic, "mag", r.BackMagneticSigma), d.side(d.between(magnetic, back), 0))
	}
	t.line("true bearing", "%s", d.bearing(north, "true", r.TrueSigma))
	t.line("convergence", "%s", d.side(d.between(grid, north), 0))
	if r.HasMagnetic {
		t.line("declination", "%s (%s)", d.side(d.steps(r.Declination.Angle()), r.DeclinationSigma), r.Model)
	}
	t.line("sixteen-point", "%s", r.Point)
	t.line("datum shift", "%s", r.Shift)
	t.line("point scale", "%.7f", r.PointScale)
	t.line("grid distance", "%s", units.Metres(r.GridM, r.DistanceSigmaM))
	t.line("ground distance", "%s", units.Metres(r.GroundM, r.DistanceSigmaM))
}

func rule(gma int) string {
	switch {
	case gma > 0:
		return "grid to magnetic, take it off"
	case gma < 0:
		return "grid to magnetic, add it"
	}
	return "grid and magnetic are the same"
}
