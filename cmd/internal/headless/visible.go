package headless

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
)

const visibleHelp = `
PLAN is a plan file (NAME.legplan), or demo for the demo plan. FROM is the name of a mark in
it, or a reference as the sight command reads it.

The command works out from the plan's terrain files whether each mark is visible from there,
hidden by the ground between, or doubtful (the ground comes within 5 m of the line of
sight). It allows for the earth's curvature and refraction (k = 0.13). Ground within 30 m of
a mark hides nothing. Terrain shows no trees, walls or weather.

--json writes:
  from: the mark's name, or the reference
  eye_m, target_m, cautions
  marks: an array of objects with the keys below

Each object in marks has mark, distance_m and
  visible: null where it is doubtful or not known
  doubtful: null where it is not known
  clearance_m: the least height of the line of sight above the ground; negative if the
      ground rises above it; null where it is not known, or if the mark is so near (about
      30 m) that no ground in between is looked at
  at_m: how far from the eye that least height is
`

func visibleCommand() command {
	return command{
		name:  "visible",
		usage: "PLAN --from MARK|REF [--eye 1.7] [--target 0] [--json]",
		about: "say which marks of a plan can be seen from a position",
		run:   runVisible,
	}
}

func runVisible(c command, args []string, s streams) error {
	o := newOptions(c, visibleHelp)
	from := o.String("from", "", "the mark's name or the `REF` to look from")
	eye, target := numberFlag{value: leg.EyeM, max: 1000}, numberFlag{max: 1000}
	o.Var(&eye, "eye", "how many `METRES` the eye is above the ground")
	o.Var(&target, "target", "how many `METRES` the top of the marks is above the ground")
	asJSON := o.Bool("json", false, "write JSON")
	words, err := o.read(args, s)
	if err != nil {
		return err
	}
	if *from == "" {
		return usagef("--from is missing: name a mark or give a reference to look from")
	}
	reader, err := readPlanGround(words, s)
	if err != nil {
		return err
	}
	at, err := lookoutOf(reader.Plan(), *from)
	if err != nil {
		return err
	}
	v := view{from: *from, eyeM: eye.value, targetM: target.value, reader: reader}
	if err := v.look(at); err != nil {
		return err
	}
	n := newNotes(s)
	v.cautions = append(reader.CautionsOfMarks(at), reader.GroundCautions()...)
	for _, c := range v.cautions {
		n.caution("", c)
	}
	if *asJSON {
		return writeJSON(s.out, v.object())
	}
	return v.write(s.out)
}

// view is what can be seen from a position.
type view struct {
	from          string
	eyeM, targetM float64
	reader        *leg.Reader
	seen          []seen // of the plan's marks, without the one looked from
	cautions      []caution.Caution
}

type seen struct {
	plan.Mark
	terrain.Sight
	known bool
}

// look asks the terrain for every mark. The error is that of a plan without terrain.
func (v *view) look(at plan.Position) error {
	if v.reader.Model() == nil {
		if len(v.reader.Plan().Terrain) == 0 {
			return errors.New("the plan has no terrain: open terrain in the window first")
		}
		return errors.New("no terrain of this plan can be read")
	}
	for _, m := range v.reader.Plan().Marks {
		if m.Position.Same(at) {
			continue
		}
		x := seen{Mark: m}
		x.Sight, x.known = v.reader.SightAbove(at, v.eyeM, m.Position, v.targetM)
		v.seen = append(v.seen, x)
	}
	return nil
}

func (v view) object() object {
	marks := make([]object, 0, len(v.seen))
	for _, x := range v.seen {
		o := object{{"mark", x.Name}}
		for _, f := range []member{
			{"visible", x.Visible}, {"doubtful", x.Doubtful()}, {"clearance_m", number(x.ClearanceM)}, {"at_m", number(x.AlongM)}, {"distance_m", number(x.LengthM)},
		} {
			if !x.known || f.key == "visible" && x.Doubtful() || f.key == "at_m" && math.IsInf(x.ClearanceM, 1) {
				f.value = nil
			}
			o.add(f.key, f.value)
		}
		marks = append(marks, o)
	}
	return object{
		{"from", v.from},
		{"eye_m", number(v.eyeM)},
		{"target_m", number(v.targetM)},
		{"marks", marks},
		{"cautions", cautionList(v.cautions)},
	}
}

func (v view) write(w io.Writer) error {
	var text strings.Builder
	tw := tabwriter.NewWriter(&text, 0, 1, 2, ' ', 0)
	fmt.Fprintln(tw, "mark\tfrom here\tdistance\tclearance")
	for _, x := range v.seen {
		fmt.Fprintf(tw, "%s\t%s\n", oneLine(x.Name), x.words())
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	_, err := io.WriteString(w, text.String())
	return err
}

func (x seen) words() string {
	word := "hidden"
	switch {
	case !x.known:
		return "not known: no terrain between\t-\t-"
	case math.IsInf(x.ClearanceM, 1):
		return fmt.Sprintf("visible\t%.0f m\t-", x.LengthM)
	case x.Doubtful():
		word = "doubtful"
	case x.Visible:
		word = "visible"
	}
	return fmt.Sprintf("%s\t%.0f m\t%.0f m at %.0f m", word, x.LengthM, x.ClearanceM, x.AlongM)
}
