package headless

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"time"
	"unicode"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

const legsHelp = `
PLAN is a plan file (NAME.legplan), or demo for the demo plan.

The table has a row for each leg in the order of the route: set is what to set on this
party's compass; grid, mag and back are the bearings, rounded so that they add up. ± is the
95 % error of the map and the magnetic model; it is shown with a bearing if it exceeds the
printed step, and applies to the back bearing too. The compass's own error comes on top, as
a line below the table says. Do not walk a leg marked STOP: the lines above the table
that begin with stop say why. The other cautions are below the table.

With --json the legs are an array of objects with the keys of the sight command, or error if
a leg cannot be read, and with name, from, to, from_ref, to_ref, tick_off_feature,
catching_feature, note, bog_m, and
  from_sheet, to_sheet  the sheets that the ends were picked on; null if an end was not
                        picked or its sheet is no longer in the plan
  checked               {by,within_m,scope} of the sheet that is checked less closely; null
                        if one is unchecked or neither end was picked
  climb_m, descent_m, end_height_m  from the plan's terrain files; climb and descent come
                        from the map if somebody counted contours there; null if not known
  walking_time_s        without rests; on the flat if climb_m is null; null if the leg
                        cannot be walked or the route is too long
  running_time_s        on the flat
  leave, arrive         by the plan's clock, rests included
  or_later              true where arrive leaves out climb that is not known
  light                 daylight, twilight or dark, the darkest on the leg
  ground, near, crossings  as in the escapes command

leave, arrive and light are null if the plan has no start or no time zone, and after a break
in the route.
`

func legsCommand() command {
	return command{
		name:  "legs",
		usage: "PLAN [--json]",
		about: "list the legs of a plan",
		run:   runLegs,
	}
}

func runLegs(c command, args []string, s streams) error {
	reader, asJSON, err := readPlanCommand(c, legsHelp, args, s)
	if err != nil {
		return err
	}
	rows := reader.Legs()
	l := ledger{p: reader.Plan(), reader: reader, rows: rows, cautions: leg.Raised(rows)}
	if asJSON || !oneReader(s) {
		speakRaised(l.cautions, s)
	}
	if asJSON {
		err = writeJSON(s.out, legObjects(reader, rows))
	} else {
		err = l.write(s.out)
	}
	if err != nil {
		return err
	}
	return firstError(rows)
}

// firstError returns the error of the first leg that cannot be read.
func firstError(rows []leg.Row) error {
	for i, r := range rows {
		if r.Err != nil {
			return fmt.Errorf("leg %d, %s to %s: %w", i+1, r.From, r.To, r.Err)
		}
	}
	return nil
}

func legObjects(reader *leg.Reader, rows []leg.Row) []object {
	p := reader.Plan()
	out := make([]object, 0, len(rows))
	for _, r := range rows {
		o := object{
			{"name", r.Name},
			{"from", r.From},
			{"to", r.To},
			{"from_sheet", sheetOf(p, r.FromEnd)},
			{"to_sheet", sheetOf(p, r.ToEnd)},
			{"checked", checkedEnds(reader, r.FromEnd, r.ToEnd)},
			{"tick_off_feature", r.TickOff},
			{"catching_feature", r.Catching},
			{"note", r.Note},
		}
		if r.Err != nil {
			o.add("error", r.Err.Error())
		} else {
			o.add("from_ref", r.Reading.FromRef)
			o.add("to_ref", r.Reading.ToRef)
			o.add("climb_m", rise(r.Climb))
			o.add("descent_m", rise(r.Descent))
			o.add("end_height_m", rise(r.End()))
			o.add("walking_time_s", seconds(r.Time))
			o.add("running_time_s", math.Round(r.RunTime.Seconds()))
			o.add("leave", clockOf(r.Leave))
			o.add("arrive", clockOf(r.Arrive))
			o.add("or_later", r.OrLater)
			o.add("light", orNil(r.Light.String()))
			o = append(o, metObject(r.Met)...)
			o = append(o, readingObject(r.Reading, r.Cautions())...)
		}
		out = append(out, o)
	}
	return out
}

// rise is a climb or descent in metres, nil where it is not known.
func rise(r leg.Rise) any {
	if !r.Known() {
		return nil
	}
	return number(r.M)
}

// seconds is a walking time, nil where there is none.
func seconds(d time.Duration) any {
	if d == 0 {
		return nil
	}
	return math.Round(d.Seconds())
}

// clockOf writes a time by the plan's own clock, nil where it is not known.
func clockOf(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return t.Format(time.RFC3339)
}

// orNil is a text, nil for an empty one.
func orNil(text string) any {
	if text == "" {
		return nil
	}
	return text
}

// sheetOf names the sheet that an end was picked on, or is nil.
func sheetOf(p *plan.Plan, e plan.End) any {
	pos := p.Resolve(e)
	if _, ok := p.SheetByID(pos.Sheet); !ok || pos.Origin != plan.Picked {
		return nil
	}
	return p.SheetName(pos.Sheet)
}

// speakRaised writes them to the standard error.
func speakRaised(list []caution.Raised, s streams) {
	n := newNotes(s)
	for _, c := range list {
		n.caution(c.By, c.Caution)
	}
}

// ledger is the table of a plan's legs.
type ledger struct {
	p        *plan.Plan
	reader   *leg.Reader
	rows     []leg.Row
	cautions []caution.Raised
}

func (l ledger) write(w io.Writer) error {
	title := l.p.Title
	if title == "" {
		title = "untitled plan"
	}
	date := "no date set"
	if !l.p.Date.IsZero() {
		date = l.p.Date.Words()
	}
	var text strings.Builder
	for _, c := range l.cautions {
		if c.Stop() {
			text.WriteString(raisedLine(c) + "\n")
		}
	}
	fmt.Fprintf(&text, "%s, %s\n%s\n", oneLine(title), date, sheetLines(l.reader))
	tw := tabwriter.NewWriter(&text, 0, 1, 2, ' ', 0)
	fmt.Fprintln(tw, "leg\tfrom\tto\treference\tset\tgrid\tGMA\tmag\tback grid\tback mag\tpoint\tdistance\ttime\tclock\tnote")
	for i, r := range l.rows {
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\n", numbered(i+1, r), oneLine(r.From), oneLine(r.To), l.figures(r))
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	text.WriteByte('\n')
	if words := leg.CompassWords(l.p.Party.Compass); words != "" {
		text.WriteString(words + ".\n")
	}
	for _, c := range l.cautions {
		if !c.Stop() {
			text.WriteString(raisedLine(c) + "\n")
		}
	}
	_, err := io.WriteString(w, text.String()+planningAid+"\n")
	return err
}

// raisedLine writes a caution with what raises it.
func raisedLine(c caution.Raised) string { return word(c.Caution) + ": " + oneLine(c.Line()) }

// numbered is a leg's number, with a mark where its reading cannot be trusted.
func numbered(n int, row leg.Row) string {
	if row.Err != nil || row.Reading.Stopped() {
		return fmt.Sprintf("%d STOP", n)
	}
	return fmt.Sprint(n)
}

// sheetLines lists the sheets of a plan that has several, with how far each
// can be trusted.
func sheetLines(r *leg.Reader) string {
	p := r.Plan()
	if len(p.Sheets) < 2 {
		return ""
	}
	var text strings.Builder
	for i, s := range p.Sheets {
		fmt.Fprintf(&text, "sheet %d: %s, %s\n", i+1, oneLine(p.SheetName(s.ID)), stateOf(r, s.ID))
	}
	return text.String()
}

// figures writes the columns of one leg from the reference on.
func (l ledger) figures(row leg.Row) string {
	if row.Err != nil {
		return "error: " + oneLine(row.Err.Error())
	}
	r, circle := row.Reading, l.p.Party.Compass.Circle
	set, gma := r.SetFigure(circle), r.Closed(circle).GMA
	grid, mag := r.Figures(circle)
	back := r.ClosedBack(circle)
	if !r.HasMagnetic {
		set, gma, mag, back.Magnetic = dash(set), "none", "none", "none"
	}
	return fmt.Sprintf("%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s",
		dash(r.ToRef), set, grid, gma, mag, back.Grid, back.Magnetic,
		units.SixteenShort(r.Grid.Angle()), units.Metres(r.GroundM, r.DistanceSigmaM), walkingTime(row), dash(row.ClockWords(l.p.Date)), oneLine(row.Note))
}

// walkingTime is how long a leg takes, see leg.TimeWords, or that it has no time.
func walkingTime(row leg.Row) string {
	if row.Time == 0 {
		return "none"
	}
	return leg.TimeWords(row.Time, row.ClimbKnown())
}

// oneLine writes a text of the user's on one line of one cell.
func oneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text)
}

func dash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}
