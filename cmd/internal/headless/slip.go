package headless

import (
	"math"
	"slices"
	"strings"

	"legwright/app/misread"
	"legwright/app/teach"
	"legwright/app/units"
)

const slipHelp = `
RIGHT and SAID are bearings with the north they are measured from: "057 grid", "045 mag".
The circle is the one that RIGHT names, such as "1010 mil grid" or "63 gon mag"; degrees if
it names none.

The GMA is "12 east" or "17 west". Without it, and for true bearings, slips of the GMA are
not looked for. If RIGHT is grid and SAID is mag, or the other way round, the GMA turns
RIGHT into what SAID should have been. A magnetic answer is assumed to come from the map: a
GMA to the east must be taken off, one to the west added. A grid answer is assumed to come
from the compass: there it is the other way round.

A slip is named if it makes SAID within the tolerance and moves the right answer by more
than twice the tolerance. Slips that make the same figure are all named: SAID alone cannot
tell them apart. If no slip explains the figure, the exit status is still 0.

--json writes:
  right_deg, said_deg: from SAID's north
  north
  gma_deg: null without one
  tolerance_deg
  off_deg: how far SAID is clockwise from RIGHT, up to 180 either way
  is_right
  slips: an array of objects with slip, makes_deg, off_deg (how far SAID is clockwise from
      makes_deg), text and advice. The slips are half-turn, lines-along-eastings,
      east-for-west, anticlockwise, north-for-south, gma-wrong-way, gma-twice,
      gma-forgotten, tens-misread and digits-swapped
  too_small: the names of the slips that the tolerance hides
`

func slipCommand() command {
	return command{
		name:  "slip",
		usage: "--right BEARING --said BEARING [--gma ANGLE] [--tolerance 2] [--json]",
		about: "name the compass slip that turns the right bearing into the wrong one",
		run:   runSlip,
	}
}

// slipQuestion is what was asked of the slip command.
type slipQuestion struct {
	task      misread.Task // its north is that of the wrong bearing
	said      units.Angle
	rightText string // as it was given, with its own north
	hasGMA    bool
	tolerance units.Angle
}

func runSlip(c command, args []string, s streams) error {
	o := newOptions(c, slipHelp)
	right := o.String("right", "", "the right `BEARING` and its north, such as \"057 grid\"")
	said := o.String("said", "", "the wrong `BEARING` and its north")
	gma := o.String("gma", "", "the grid-magnetic `ANGLE` and its side, such as \"12 east\"")
	tolerance := numberFlag{value: 2, min: 0, max: 90}
	o.Var(&tolerance, "tolerance", "how many `DEGREES` either way count as the same bearing")
	asJSON := o.Bool("json", false, "write JSON")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	if !o.set("right") || !o.set("said") {
		return usagef("--right or --said is missing: give the right bearing and the wrong one, such as --right \"057 grid\" --said \"237 grid\"")
	}
	if tolerance.value >= 90 {
		return usagef("with --tolerance 90 any slip would pass as a rough reading: give a smaller one, such as --tolerance 2")
	}
	q := slipQuestion{hasGMA: o.set("gma"), tolerance: units.Degrees(tolerance.value)}
	if err := q.read(*right, *said, *gma); err != nil {
		return err
	}
	if *asJSON {
		return writeJSON(s.out, q.object())
	}
	t := q.table()
	return t.write(s.out)
}

// read takes the bearings and the angle from their texts.
func (q *slipQuestion) read(right, said, gma string) error {
	q.task.Circle = circleNamed(right)
	var err error
	if q.task.Right, q.task.North, err = needNorth("--right", right, q.task.Circle); err != nil {
		return err
	}
	a, north, err := needNorth("--said", said, q.task.Circle)
	if err != nil {
		return err
	}
	if q.hasGMA {
		if q.task.GMA, err = units.ParseGMA(gma, q.task.Circle, math.Pi); err != nil {
			return usagef("--gma: %s", err)
		}
	}
	q.said = a
	q.rightText = q.task.North.Figure(q.task.Circle, q.task.Right)
	return q.turnRight(north)
}

// circleNamed is the circle whose unit a bearing names, else whole degrees.
func circleNamed(text string) units.Circle {
	switch text = strings.ToLower(text); {
	case strings.Contains(text, "mil"):
		return units.Mils6400
	case strings.Contains(text, "gon"):
		return units.Gon400
	}
	return units.WholeDegrees
}

// needNorth reads the bearing of a flag and asks for its north where it names none.
func needNorth(flag, text string, c units.Circle) (units.Angle, units.North, error) {
	a, north, err := units.ParseBearingNorth(text, c)
	if err != nil {
		return 0, north, usagef("%s: %s", flag, err)
	}
	if north == units.NoNorth {
		figure := c.Figure(a)
		return 0, north, usagef("%s %q does not say which north it is from: is it %s grid, %s mag or %s true?", flag, text, figure, figure, figure)
	}
	return a, north, nil
}

// turnRight turns the right answer into what it would have been from a north.
func (q *slipQuestion) turnRight(want units.North) error {
	right, north := q.task.Right, q.task.North
	switch {
	case north == want:
		return nil
	case north == units.TrueNorth || want == units.TrueNorth:
		return usagef("--right is from %s north and --said from %s north: give both from the same one", northName(north), northName(want))
	case !q.hasGMA:
		return usagef("--right is %s and --said is %s: give --gma too, such as --gma \"12 east\"", north, want)
	case want == units.GridNorth:
		right = units.NewMagneticBearing(right).Grid(q.task.GMA).Angle()
	default:
		right = units.NewGridBearing(right).Magnetic(q.task.GMA).Angle()
	}
	q.task.Right, q.task.North = right, want
	return nil
}

func northName(n units.North) string {
	if n == units.MagneticNorth {
		return "magnetic"
	}
	return n.String()
}

// signedDeg is a difference in degrees, −180 to 180 and never −180 itself, without the
// noise of turning radians.
func signedDeg(a units.Angle) float64 {
	if v := math.Round(a.Signed().Deg()*1e9) / 1e9; v > -180 {
		return v
	}
	return 180
}

func turnDeg(a units.Angle) float64 {
	return math.Mod(math.Round(a.Turn().Deg()*1e9)/1e9, 360)
}

func (q slipQuestion) object() object {
	var gma any
	if q.hasGMA {
		gma = number(signedDeg(q.task.GMA.Angle()))
	}
	slips := []object{}
	for _, f := range q.task.Explain(q.said, q.tolerance) {
		slips = append(slips, object{
			{"slip", f.Slip.Code()},
			{"makes_deg", number(turnDeg(f.Makes))},
			{"off_deg", number(signedDeg(f.Off))},
			{"text", q.task.Say(f)},
			{"advice", f.Slip.Advice()},
		})
	}
	small := []string{}
	for _, s := range q.small() {
		small = append(small, s.Code())
	}
	return object{
		{"right_deg", number(turnDeg(q.task.Right))},
		{"said_deg", number(turnDeg(q.said))},
		{"north", q.task.North.String()},
		{"gma_deg", gma},
		{"tolerance_deg", number(signedDeg(q.tolerance))},
		{"off_deg", number(signedDeg(q.said - q.task.Right))},
		{"is_right", q.task.IsRight(q.said, q.tolerance)},
		{"slips", slips},
		{"too_small", small},
	}
}

func (q slipQuestion) table() table {
	var t table
	c := q.task.Circle
	right := q.rightText
	if same := q.task.North.Figure(c, q.task.Right); same != right {
		right += ", which is " + same
	}
	t.line("right", "%s", right)
	t.line("said", "%s: %s", q.task.North.Figure(c, q.said), teach.Difference(q.said, q.task.Right, c))
	if q.hasGMA {
		t.line("GMA", "%s", c.GMAFigure(q.task.GMA))
	} else if q.task.North != units.TrueNorth {
		t.line("GMA", "none given, so slips of the GMA are not looked for")
	}
	q.verdict(&t)
	if words := q.smallWords(); words != "" {
		t.line("note", "within %g° either way these look like a rough reading: %s", signedDeg(q.tolerance), words)
	}
	return t
}

// small lists the slips that the tolerance hides; those of the GMA only where it is
// given.
func (q slipQuestion) small() []misread.Slip {
	return slices.DeleteFunc(q.task.TooSmall(q.tolerance), func(s misread.Slip) bool { return s.OfGMA() && !q.hasGMA })
}

func (q slipQuestion) smallWords() string {
	var words []string
	for _, s := range q.small() {
		words = append(words, s.Words())
	}
	return strings.Join(words, "; ")
}

// verdict adds the slips found, or that there are none.
func (q slipQuestion) verdict(t *table) {
	found := q.task.Explain(q.said, q.tolerance)
	switch {
	case q.task.IsRight(q.said, q.tolerance):
		t.line("verdict", "right, within %g°", signedDeg(q.tolerance))
		return
	case len(found) == 0:
		t.line("verdict", "no usual slip turns the right bearing into this one")
		return
	}
	label := "slip"
	if len(found) > 1 {
		label = "either"
	}
	for _, f := range found {
		t.line(label, "%s", q.task.Say(f))
		t.line("", "%s", f.Slip.Advice())
		label = "or"
	}
}
