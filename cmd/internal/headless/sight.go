package headless

import (
	"errors"
	"fmt"
	"slices"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
)

const sightHelp = `
A reference may be written as "NN 123 456" or "NN123456", in MGRS, as UTM "30U 480000
6091000", as easting and northing in the grid's printed unit "212300 745600", or as latitude
and longitude "57.1N 5.9W". It means the centre of its square, and every figure allows for
the standard deviation of that, side/√12 on each axis; easting and northing in full are
exact. ± in the table is twice the standard deviation.

--json writes:
  grid_bearing_deg, true_bearing_deg, magnetic_bearing_deg
  back_grid_bearing_deg, back_magnetic_bearing_deg
  convergence_deg, declination_deg, grid_magnetic_angle_deg
  point_scale, grid_distance_m, ground_distance_m, sixteen_point, cautions
  datum_shift: from the grid's datum to WGS 84, where the magnetic model is taken

A figure's standard deviation has the same key with _sigma added; for convergence and point
scale it says how much they change within the square of FROM.

--batch reads rows "e1 n1 e2 n2" in the grid's printed unit (metres, feet, or longitude and
latitude in degrees) and writes grid_bearing_deg true_bearing_deg magnetic_bearing_deg
grid_distance_m ground_distance_m for each. The magnetic bearing is "none" where none can be
given. A row with cautions has a sixth column, such as "STOP blackout-zone".
`

func sightCommand() command {
	return command{
		name:  "sight",
		usage: "--grid GRID --date YYYY-MM-DD (--from REF --to REF [--json] | --batch)",
		about: "read bearings and distances from one position to another",
		run:   runSight,
	}
}

func runSight(c command, args []string, s streams) error {
	o := newOptions(c, sightHelp)
	var grid gridFlag
	var date dateFlag
	o.Var(&grid, "grid", gridWords)
	o.Var(&date, "date", "the `DAY` of the outing, such as 2026-11-25")
	from := o.String("from", "", "the `REF` to go from")
	to := o.String("to", "", "the `REF` to go to")
	batch := o.Bool("batch", false, "read rows from standard input")
	asJSON := o.Bool("json", false, "write JSON")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	system, err := grid.need()
	if err != nil {
		return err
	}
	if !date.set {
		return usagef("--date is missing: the magnetic bearing needs the day, such as --date 2026-11-25")
	}
	sighter := leg.NewSighter(system, plan.DateOf(date.day), plan.Compass{})
	if *batch {
		if o.set("from") || o.set("to") || *asJSON {
			return usagef("--batch does not go with --from, --to and --json")
		}
		return sightBatch(sighter, system, s)
	}
	if !o.set("from") || !o.set("to") {
		return usagef("--from or --to is missing: give both references, or --batch")
	}
	return sightOne(sighter, system, *from, *to, *asJSON, s)
}

func sightOne(sighter *leg.Sighter, system *geodesy.System, fromText, toText string, asJSON bool, s streams) error {
	from, err := readPosition(fromText, system, nil)
	if err != nil {
		return fmt.Errorf("--from: %w", err)
	}
	to, err := readPosition(toText, system, &from.grid)
	if err != nil {
		return fmt.Errorf("--to: %w", err)
	}
	r, err := sighter.Sight(from.grid, to.grid, from.sigmaM, to.sigmaM)
	if err != nil {
		return err
	}
	if err := modelError(r); err != nil {
		return err
	}
	cautions := slices.Clip(r.Cautions)
	if w, ok := to.supplied(); ok {
		cautions = append(cautions, w)
	}
	speakAll(cautions, asJSON, s)
	if asJSON {
		return writeJSON(s.out, readingObject(r, cautions))
	}
	var t table
	t.line("from", "%s", from.words(system))
	t.line("to", "%s", to.words(system))
	readingTable(&t, r)
	t.cautions = cautions
	return t.write(s.out)
}

// modelError is the error of a reading for a date outside the magnetic model.
func modelError(r leg.Reading) error {
	for _, c := range r.Cautions {
		if c.Code == caution.OutsideModel || c.Code == caution.NoDate {
			return errors.New(c.Text())
		}
	}
	return nil
}

// appendSight writes a reading as a row of the batch.
func appendSight(dst []byte, r leg.Reading) []byte {
	dst = append(appendRow(dst, r.Grid.Angle().Deg(), r.True.Angle().Deg()), '\t')
	if r.HasMagnetic {
		dst = appendNumber(dst, r.Magnetic.Angle().Deg())
	} else {
		dst = append(dst, "none"...)
	}
	dst = appendRow(append(dst, '\t'), r.GridM, r.GroundM)
	if len(r.Cautions) == 0 {
		return dst
	}
	grade := "note"
	if r.Stopped() {
		grade = "STOP"
	}
	dst = append(append(dst, '\t'), grade...)
	for _, c := range caution.GravestFirst(r.Cautions) {
		dst = append(append(dst, ' '), c.Code...)
	}
	return dst
}

func sightBatch(sighter *leg.Sighter, system *geodesy.System, s streams) error {
	n := newNotes(s)
	return runBatch(s, func() rowFunc {
		return func(dst, line []byte) ([]byte, error) {
			var v [4]float64
			if _, err := numbers(v[:], 4, line, "e1 n1 e2 n2"); err != nil {
				return nil, err
			}
			r, err := sighter.Sight(system.FromUnits(v[0], v[1]), system.FromUnits(v[2], v[3]), 0, 0)
			if err != nil {
				return nil, err
			}
			for _, c := range r.Cautions {
				n.caution("some rows", c)
			}
			return appendSight(dst, r), nil
		}
	})
}
