package headless

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"legwright/app/caution"
	"legwright/app/teach"
	"legwright/app/units"
)

// answerTo writes the answer, and its cautions to the standard error.
func (i identified) answerTo(s streams, asJSON bool) error {
	raised := i.raised()
	if asJSON || !oneReader(s) {
		speakRaised(raised, s)
	}
	if len(i.reader.Plan().Sheets) > 0 && i.sheet == nil {
		newNotes(s).say("caution", "", fmt.Sprintf("%s is on no sheet of this plan. Compare its reference with the map.", i.from))
	}
	if asJSON {
		return writeJSON(s.out, i.object())
	}
	return i.write(s.out, raised)
}

// raised gathers the cautions of the position and of the marks, each once with the marks
// that raise it.
func (i identified) raised() []caution.Raised {
	var g caution.Gathering
	for _, x := range i.Candidates {
		for _, c := range x.Cautions {
			if slices.Contains(i.Cautions, c) { // what holds for the position holds for all
				g.Take("", c)
				continue
			}
			g.Take(x.Name, c)
		}
	}
	g.Take("", i.Cautions...)
	return g.Raised(func(names []string) string {
		if len(names) == len(i.Candidates) && len(names) > 1 {
			return "all marks"
		}
		return strings.Join(names, ", ")
	})
}

// ref is the reference of the position that was asked from, or "" off the squares of its
// grid.
func (i identified) ref() string {
	ref, err := i.reader.Reference(i.at)
	if err != nil {
		return ""
	}
	return ref
}

// place is the position as it was named, with its reference where that says more.
func (i identified) place() string {
	if ref := i.ref(); ref != "" && ref != i.from {
		return i.from + ", " + ref + ","
	}
	return i.from
}

func (i identified) object() object {
	o := object{
		{"from", i.from},
		{"from_ref", i.ref()},
		{"from_sheet", i.sheet},
		{"bearing_deg", number(turnDeg(i.Bearing.Angle))},
		{"north", i.Bearing.North.String()},
		{"tolerance_deg", number(signedDeg(i.Tolerance))},
	}
	o.figure("grid_bearing_deg", i.Ray.Angle().Deg(), i.Half.Deg()/2)
	o.add("none_chance", unless(i.Stopped, i.None))
	o.add("stopped", i.Stopped)
	o.add("text", i.Text)
	marks := []object{}
	for _, c := range i.Candidates {
		marks = append(marks, markObject(c))
	}
	o.add("marks", marks)
	o.add("cautions", cautionList(i.Cautions))
	return o
}

// unless is a number, or null where it must not be given.
func unless(hidden bool, v float64) any {
	if hidden {
		return nil
	}
	return number(v)
}

func markObject(c teach.Candidate) object {
	o := object{{"mark", c.Name}}
	if bears(c) {
		o.add("bearing_deg", number(c.Bearing.Turn().Deg()))
		o.figure("off_deg", c.Off.Signed().Deg(), c.Half.Deg()/2)
		o.figure("distance_m", c.DistanceM, c.DistanceSigmaM)
	} else {
		o.add("bearing_deg", nil)
		o.absent("off_deg")
		o.absent("distance_m")
	}
	o.add("chance", unless(c.Verdict == teach.NoVerdict, c.Chance))
	o.add("verdict", c.Verdict.Code())
	o.add("hidden_by_ground", hiddenByGround(c))
	o.add("text", c.Sentence())
	o.add("together", append([]string{}, c.Together...))
	o.add("cautions", cautionList(c.Cautions))
	return o
}

// hiddenByGround is true or false by the terrain, or null where that cannot say.
func hiddenByGround(c teach.Candidate) any {
	if c.Cover == teach.CoverUnknown {
		return nil
	}
	return c.Cover == teach.Covered
}

// bears reports whether a bearing leads to a mark.
func bears(c teach.Candidate) bool { return !c.Here && c.DistanceM > 0 }

func (i identified) write(w io.Writer, raised []caution.Raised) error {
	var text strings.Builder
	for _, c := range raised {
		if c.Stop() {
			text.WriteString(raisedLine(c) + "\n")
		}
	}
	circle := i.reader.Plan().Party.Compass.Circle
	fmt.Fprintf(&text, "from %s on %s, ± %g°\n%s\n\n", oneLine(i.place()), i.Bearing.North.Figure(circle, i.Bearing.Angle), signedDeg(i.Tolerance), oneLine(i.Text))
	tw := tabwriter.NewWriter(&text, 0, 1, 2, ' ', 0)
	if len(i.Candidates) > 0 {
		fmt.Fprintln(tw, "mark\tchance\tverdict\tdistance\twhere it is")
	}
	for _, c := range i.Candidates {
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\t%s\n", oneLine(c.Name), chanceWords(c), c.Verdict, distanceWords(c), oneLine(c.Text))
	}
	if !i.Stopped && len(i.Candidates) > 0 {
		fmt.Fprintf(tw, "none of these\t%s\n", percent(i.None))
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	for _, c := range raised {
		if !c.Stop() {
			text.WriteString(raisedLine(c) + "\n")
		}
	}
	_, err := io.WriteString(w, text.String()+planningAid+"\n")
	return err
}

func chanceWords(c teach.Candidate) string {
	if c.Verdict == teach.NoVerdict {
		return "-"
	}
	return percent(c.Chance)
}

// percent writes a chance without claiming what is certain.
func percent(chance float64) string {
	switch whole := math.Round(chance * 100); {
	case whole < 1:
		return "< 1 %"
	case whole > 99:
		return "> 99 %"
	default:
		return fmt.Sprintf("%.0f %%", whole)
	}
}

func distanceWords(c teach.Candidate) string {
	if !bears(c) {
		return "-"
	}
	return units.Metres(c.DistanceM, c.DistanceSigmaM)
}
