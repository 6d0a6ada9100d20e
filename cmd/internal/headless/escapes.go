package headless

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

const escapesHelp = `
PLAN is a plan file (NAME.legplan), or demo for the demo plan. Its escapes are listed in the
order of the route: E03-1 is the first from the start of leg 3. Escapes from the last mark
are numbered as if one more leg started there.

Times are those of a party on an escape, without rests: 4 km/h along lines, 3 km/h on the
compass and 2.5 km/h on either in the dark, plus 10 minutes for every 100 m of climb and for
every 300 m of descent steeper than 12 degrees. On rough ground the speed is six tenths of
that, except along a path, a track or a road.

The verdict is DRAFT if a leg is not ticked; otherwise STOP if the escape has a stop or the
party reaches its mark after the turn-back time; otherwise ticked. Do not follow an escape
that is DRAFT or STOP, and do not rely on a turn-back time marked so: the lines above the
table that begin with stop say why. The turn-back time of a DRAFT comes from an escape that nobody
has compared with the map.

--json writes:
  snow_lying      yes, no, or null if nobody answered
  over_steep_deg  the slope that the leader calls over-steep; null means the default: 25, or
                  20 where the terrain's heights are more than 15 m apart
  marks, escapes  arrays of objects, described below

Each object in marks is the start of a leg, or the end of the last one. What is not known is
null:
  leg                 the leg that starts there, counted from 1
  name
  reach, turn_back    times by the plan's clock
  turn_back_stops     stops of the chosen escape, which turn_back comes from: do not rely on
                      turn_back while there are any; a DRAFT is one
  off_by              what turn_back is counted from: the leader's latest time off the hill,
                      or an earlier sunset or end of civil twilight
  off_by_event        which of the three it is
  on_to, on_time_s    the next mark, and the walking time to it without rests
  back_to, back_time_s  the same for the mark before
  on_flat, back_flat  true if that time leaves out climb that is not known
  escapes             the names of the escapes that start there
  cautions

Each object in escapes has name, title, from, to, chosen, draft, verdict, time_min,
time_in_the_dark_min, in_the_dark, climb_m, descent_m, climbed_again_m, off_a_line_m,
longest_compass_leg_m, ends_on, legs and cautions.

Each object in legs has from, to, length_m, time_min, time_in_the_dark_min, climb_m, descent_m,
bog_m, ticked, cautions and
  along      the line that it follows; null for a compass leg
  at_first   to which side it leaves along that line, such as south-east
  ground     its parts in areas of ground and in bog: ground, from_m and to_m from its start
  near       hazards within 500 m: hazard, kind, distance_m, at_m from its start, at_ref
  crossings  water that it crosses: hazard, kind, at_m
  grid_bearing_deg, magnetic_bearing_deg  of a compass leg, each with its _sigma
`

func escapesCommand() command {
	return command{
		name:  "escapes",
		usage: "PLAN [--json]",
		about: "judge the escapes of a plan, and say when to turn back",
		run:   runEscapes,
	}
}

func runEscapes(c command, args []string, s streams) error {
	reader, asJSON, err := readPlanCommand(c, escapesHelp, args, s)
	if err != nil {
		return err
	}
	j := escape.Of(reader)
	raised := j.Raised()
	if asJSON || !oneReader(s) {
		speakRaised(raised, s)
	}
	if asJSON {
		err = writeJSON(s.out, escapesObject(j, reader.Plan()))
	} else {
		err = writeEscapes(s.out, j, raised)
	}
	if err != nil {
		return err
	}
	return firstEscapeError(j)
}

// firstEscapeError returns the error of the first leg that cannot be read.
func firstEscapeError(j escape.Judged) error {
	for _, e := range j.Escapes {
		for _, l := range e.Legs {
			if l.Err != nil {
				return fmt.Errorf("escape %s, leg %d: %w", e.Name, l.N, l.Err)
			}
		}
	}
	return nil
}

func escapesObject(j escape.Judged, p *plan.Plan) object {
	marks, escapes := []object{}, []object{}
	for _, s := range j.Stages {
		names := []string{}
		for _, id := range s.Escapes {
			if e, ok := j.ByID(id); ok {
				names = append(names, e.Name)
			}
		}
		marks = append(marks, object{
			{"leg", s.Leg},
			{"name", s.Name},
			{"reach", clockOf(s.Reach)},
			{"turn_back", clockOf(s.TurnBack)},
			{"turn_back_stops", turnBackStops(j, s)},
			{"off_by", clockOf(s.OffBy.At)},
			{"off_by_event", orNil(string(s.OffBy.Event))},
			{"on_to", orNil(s.OnTo)},
			{"on_time_s", seconds(s.On)},
			{"on_flat", s.OnFlat},
			{"back_to", orNil(s.BackTo)},
			{"back_time_s", seconds(s.Back)},
			{"back_flat", s.BackFlat},
			{"escapes", names},
			{"cautions", cautionList(s.Cautions)},
		})
	}
	for _, e := range j.Escapes {
		escapes = append(escapes, escapeObject(j, e))
	}
	var steep any
	if p.OverSteepDeg != 0 {
		steep = p.OverSteepDeg
	}
	return object{{"snow_lying", orNil(string(p.Snow))}, {"over_steep_deg", steep}, {"marks", marks}, {"escapes", escapes}}
}

// turnBackStops are the stops of the chosen escape that a turn-back time is by: nobody may
// rely on that time while there are any.
func turnBackStops(j escape.Judged, s escape.Stage) []object {
	var stops []caution.Caution
	for _, e := range j.Escapes {
		if e.Chosen && e.Mark == s.Mark && !s.TurnBack.IsZero() {
			stops = append(stops, caution.OfGrade(e.Cautions, caution.Stop)...)
		}
	}
	return cautionList(stops)
}

func escapeObject(j escape.Judged, e escape.Escape) object {
	legs, read := []object{}, true
	for _, l := range e.Legs {
		legs, read = append(legs, escapeLegObject(l)), read && l.Err == nil
	}
	var dark any // null where nobody knows when it is left
	if !e.Leave.IsZero() {
		dark = e.Dark
	}
	return object{
		{"name", e.Name},
		{"title", e.Title},
		{"from", e.From},
		{"to", e.To},
		{"chosen", e.Chosen},
		{"draft", e.Draft},
		{"verdict", string(j.Verdict(e))},
		{"time_min", number(e.Minutes)},
		{"time_in_the_dark_min", number(e.DarkMinutes)},
		{"in_the_dark", dark},
		{"climb_m", rise(e.Climb)},
		{"descent_m", rise(e.Descent)},
		{"climbed_again_m", number(e.AgainM)},
		{"off_a_line_m", known(e.OffLineM, read)},
		{"longest_compass_leg_m", known(e.LongestM, read)},
		{"ends_on", orNil(e.EndsOn)},
		{"legs", legs},
		{"cautions", cautionList(e.Cautions)},
	}
}

// known is a figure, nil where a leg that belongs to it cannot be read.
func known(v float64, is bool) any {
	if !is {
		return nil
	}
	return number(v)
}

func escapeLegObject(l escape.Leg) object {
	o := object{
		{"from", l.From},
		{"to", l.To},
		{"along", orNil(l.AlongTitle)},
		{"at_first", orNil(l.Outset())},
		{"length_m", known(l.LengthM, l.Err == nil)},
		{"time_min", number(l.Minutes)},
		{"time_in_the_dark_min", number(l.DarkMinutes)},
		{"climb_m", rise(l.Climb)},
		{"descent_m", rise(l.Descent)},
		{"ticked", l.Ticks.All()},
		{"cautions", cautionList(l.Cautions)},
	}
	if l.Err != nil {
		for _, key := range []string{"bog_m", "ground", "near", "crossings"} {
			o.add(key, nil)
		}
		o.add("error", l.Err.Error())
		return o
	}
	o = append(o, metObject(l.Met)...)
	if l.Along == "" {
		o = append(o, bearingsObject(l.Reading)...)
	}
	return o
}

// metObject is what a leg meets of what is drawn.
func metObject(m leg.Met) object {
	near, crossings, onGround := []object{}, []object{}, []object{}
	for _, g := range m.Ground {
		onGround = append(onGround, object{{"ground", string(g.Ground)}, {"from_m", number(g.FromM)}, {"to_m", number(g.ToM)}})
	}
	for _, n := range m.Near {
		near = append(near, object{
			{"hazard", n.Title}, {"kind", string(n.Kind)}, {"distance_m", number(n.DistM)}, {"at_m", number(n.AlongM)}, {"at_ref", orNil(n.Ref)},
		})
	}
	for _, c := range m.Crossings {
		crossings = append(crossings, object{{"hazard", c.Title}, {"kind", orNil(string(c.Kind))}, {"at_m", number(c.AlongM)}})
	}
	return object{{"bog_m", number(m.BogM)}, {"ground", onGround}, {"near", near}, {"crossings", crossings}}
}

// bearingsObject are the bearings of a compass leg, the magnetic one null where there is
// none.
func bearingsObject(r leg.Reading) (o object) {
	o.figure("grid_bearing_deg", r.Grid.Angle().Deg(), r.BearingSigma.Deg())
	if r.HasMagnetic {
		o.figure("magnetic_bearing_deg", r.Magnetic.Angle().Deg(), r.MagneticSigma.Deg())
	} else {
		o.absent("magnetic_bearing_deg")
	}
	return o
}

func writeEscapes(w io.Writer, j escape.Judged, raised []caution.Raised) error {
	var text strings.Builder
	speak := func(g caution.Grade) {
		for _, c := range raised {
			if c.Grade() == g {
				text.WriteString(raisedLine(c) + "\n")
			}
		}
	}
	speak(caution.Stop)
	tw := tabwriter.NewWriter(&text, 0, 1, 2, ' ', 0)
	fmt.Fprintln(tw, "escape\tverdict\tfrom\tto\ttime\tin the dark\tclimb\tdescent\tlongest compass leg\tends on\tturn back by")
	for _, e := range j.Escapes {
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%.0f m\t%s\t%s\n", e.Name, j.Verdict(e), oneLine(e.From), oneLine(e.To), minutesText(e.Minutes), minutesText(e.DarkMinutes),
			riseText(e.Climb), riseText(e.Descent), e.LongestM, dash(oneLine(e.EndsOn)), dash(turnBackText(j, e)))
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	if len(j.Escapes) == 0 {
		text.WriteString("The plan has no escapes.\n")
	}
	speak(caution.Note)
	_, err := io.WriteString(w, text.String()+planningAid+"\n")
	return err
}

// turnBackText is the latest time to leave by an escape and what it is counted from, ""
// where it is not known; with its verdict where the escape must not be followed.
func turnBackText(j escape.Judged, e escape.Escape) string {
	at, from := j.LeaveBy(e)
	if at.IsZero() {
		return ""
	}
	text := at.Format("15:04")
	if v := j.Verdict(e); v != escape.Ticked {
		text += " " + string(v)
	}
	return text + ", from " + from.Words()
}

func minutesText(min float64) string {
	if math.IsNaN(min) {
		return "not known"
	}
	return units.Minutes(time.Duration(math.Ceil(min-1e-9)) * time.Minute)
}

func riseText(r leg.Rise) string {
	if !r.Known() {
		return "?"
	}
	return fmt.Sprintf("%.0f m", r.M)
}
