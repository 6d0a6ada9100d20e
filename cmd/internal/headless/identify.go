package headless

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/units"
)

const identifyHelp = `
PLAN is a plan file (NAME.legplan), or demo for the demo plan. FROM is the name of a mark
in it, or a reference as the sight command reads it. BEARING is a figure and the north it
is measured from: "060 grid", "057 mag", "055 true"; it may also be in mil or gon. The
tolerance is its ± (95 %).

Each mark is compared with the bearing; the likeliest comes first. The
angle between the bearing and a mark has a ± that combines those of the compass, the
declination and both positions. A mark is likely within that ± and possible within one
and a half times it; beyond that it cannot be the one. Its chance assumes that each mark, and
a feature that is none of them, was equally likely beforehand. If there is a stop, no verdict
and no chance are given; the lines that begin with stop say why.

--json writes:
  from: the mark's name, or the reference
  from_ref
  from_sheet: the sheet that the position is on, or null
  bearing_deg, north, tolerance_deg
  grid_bearing_deg, grid_bearing_deg_sigma
  none_chance: the chance that none of the marks is meant; null if there is a stop
  stopped, text, cautions
  marks: an array of objects with the keys below

Each object in marks has mark, text, cautions and these keys; if no bearing leads to the
mark, its figures are null:
  bearing_deg: from the same north
  off_deg, off_deg_sigma: how far it is to the right of the bearing; negative to the left
  distance_m, distance_m_sigma: on the ground
  chance: null without a verdict
  verdict: likely, possible, cannot or none
  hidden_by_ground: by the plan's terrain; null where there is no terrain or it is too close
      to call; false does not mean that the mark can be seen
  together: the names of marks at the same position
`

func identifyCommand() command {
	return command{
		name:  "identify",
		usage: "--plan PLAN --from MARK|REF --bearing BEARING [--tolerance 5] [--json]",
		about: "say which marks of a plan a bearing may point at, and which it cannot",
		run:   runIdentify,
	}
}

func runIdentify(c command, args []string, s streams) error {
	o := newOptions(c, identifyHelp)
	name := o.String("plan", "", "the `PLAN` file, or demo")
	from := o.String("from", "", "where the bearing was taken from: a mark's name or a `REF`")
	bearing := o.String("bearing", "", "the `BEARING` and its north, such as \"060 grid\"")
	tolerance := numberFlag{value: teach.DefaultToleranceDeg, min: -1e9, max: 1e9} // CheckTolerance has the words for what is refused
	o.Var(&tolerance, "tolerance", "the bearing's ± (95 %) in `DEGREES`")
	asJSON := o.Bool("json", false, "write JSON")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	if !o.set("plan") || !o.set("from") || !o.set("bearing") {
		return usagef("--plan, --from or --bearing is missing: give all three, such as --plan demo --from Cairn --bearing \"060 grid\"")
	}
	said, err := saidBearing(*bearing)
	if err != nil {
		return err
	}
	if err := teach.CheckTolerance(units.Degrees(tolerance.value)); err != nil {
		return usagef("--tolerance: %s", err)
	}
	p, reach, err := loadPlan(*name, s)
	if err != nil {
		return err
	}
	reader, err := leg.NewReader(p)
	if err != nil {
		return err
	}
	i, err := identify(withGround(reader, reach, s), *from, said, units.Degrees(tolerance.value))
	if err != nil {
		return err
	}
	return i.answerTo(s, *asJSON)
}

// saidBearing reads a bearing on the circle that its unit names. A bearing without a
// north is refused later, by who knows how far the norths lie apart there.
func saidBearing(text string) (teach.Bearing, error) {
	a, north, err := units.ParseBearingNorth(text, circleNamed(text))
	if err != nil {
		return teach.Bearing{}, usagef("--bearing: %s", err)
	}
	return teach.Bearing{Angle: a, North: north}, nil
}

// identified is an answer with the position that it was asked from.
type identified struct {
	from   string
	at     plan.Position
	sheet  any // name of the sheet that the position lies on, or nil
	reader *leg.Reader
	teach.Answer
}

func identify(reader *leg.Reader, from string, said teach.Bearing, tolerance units.Angle) (i identified, err error) {
	i = identified{from: from, reader: reader}
	if i.at, err = lookoutOf(reader.Plan(), from); err != nil {
		return i, err
	}
	i.sheet = sheetUnder(reader, i.at)
	i.Answer, err = teach.Identify(reader, i.at, said, tolerance, nil)
	var asked *teach.NorthNotSaid
	if errors.As(err, &asked) {
		return i, usagef("--bearing: %s", err)
	}
	return i, err
}

// lookoutOf is the position of the mark with that name, or that a reference means on the
// plan's grid.
func lookoutOf(p *plan.Plan, text string) (plan.Position, error) {
	named := slices.DeleteFunc(slices.Clone(p.Marks), func(m plan.Mark) bool { return !strings.EqualFold(m.Name, text) })
	switch len(named) {
	case 0:
		if m, ok := p.MarkTyped(text); ok {
			return m.Position, nil
		}
	case 1:
		return named[0].Position, nil
	default:
		return plan.Position{}, fmt.Errorf("--from: %d marks are called %q: give the reference of the one you mean", len(named), text)
	}
	code := p.Code()
	if code == "" && len(p.Marks) > 0 {
		code = p.Marks[0].Position.Code
	}
	if code == "" {
		return plan.Position{}, errors.New("--from: the plan has neither marks nor a sheet with a grid: open it in the window and add one")
	}
	system, err := geodesy.Lookup(code)
	if err != nil {
		return plan.Position{}, err
	}
	ref, err := geodesy.ParseRef(text, geodesy.RefContext{System: system})
	if err != nil {
		return plan.Position{}, fmt.Errorf("--from: no mark has that name; %w", err)
	}
	return plan.TypedAs(text, ref), nil
}

// sheetUnder names the calibrated sheet whose picture shows a position, or is nil.
func sheetUnder(r *leg.Reader, pos plan.Position) any {
	p := r.Plan()
	for _, s := range p.Sheets {
		c, err := s.Calibration()
		if err != nil {
			continue
		}
		system, err := r.SystemOf(s.Code)
		if err != nil {
			continue
		}
		if g, _, err := r.Convert(pos, system); err == nil && within(c.ToPicture(g), s) {
			return p.SheetName(s.ID)
		}
	}
	return nil
}

func within(at calib.PicturePt, s plan.Sheet) bool {
	return at.Col >= 0 && at.Row >= 0 && at.Col <= float64(s.Width) && at.Row <= float64(s.Height)
}
