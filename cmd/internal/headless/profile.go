package headless

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/terrain"
)

const profileHelp = `
PLAN is a plan file (NAME.legplan), or demo for the demo plan. For each leg the heights of
the ground under its straight line are read from the plan's terrain files. The points are a
third of the post spacing apart, but at least 2 m and at most 30 m. Where there is no
terrain there is no height: the ground there is unknown, not level.

With --json the legs are an array of objects with leg (from 1), from, to, length_m (on the
ground), climb_m, descent_m, lowest_m, highest_m (null if any part of the leg has no
terrain), points_without_terrain, points (an array of {along_m,height_m}; height_m is null
where there is no terrain, and the array is empty if the leg has none at all) and cautions,
or error if a leg cannot be read. climb_m and descent_m leave out rises and falls of less
than 5 m, except on the way to the end of the leg or to its highest or lowest point.
`

func profileCommand() command {
	return command{
		name:  "profile",
		usage: "PLAN [--json]",
		about: "give the ground along each leg of a plan",
		run:   runProfile,
	}
}

func runProfile(c command, args []string, s streams) error {
	reader, asJSON, err := readPlanCommand(c, profileHelp, args, s)
	if err != nil {
		return err
	}
	rows := reader.Legs()
	speakRaised(groundCautions(rows), s)
	if len(reader.Plan().Terrain) == 0 {
		newNotes(s).say("caution", "", "The plan has no terrain: open terrain in the window first.")
	}
	if asJSON {
		err = writeJSON(s.out, profileObjects(rows))
	} else {
		err = writeProfiles(s.out, rows)
	}
	if err != nil {
		return err
	}
	return firstError(rows)
}

// groundCautions are those of the ground under all legs.
func groundCautions(rows []leg.Row) []caution.Raised {
	bare := make([]leg.Row, len(rows))
	for i, r := range rows {
		bare[i].HeightCautions = r.HeightCautions
	}
	return leg.Raised(bare)
}

func profileObjects(rows []leg.Row) []object {
	out := make([]object, 0, len(rows))
	for i, r := range rows {
		o := object{{"leg", i + 1}, {"from", r.From}, {"to", r.To}}
		if r.Err != nil {
			o.add("error", r.Err.Error())
			out = append(out, o)
			continue
		}
		climb, descent, lowest, highest := profileFigures(r.Profile)
		o.add("length_m", number(r.Reading.GroundM))
		o.add("climb_m", climb)
		o.add("descent_m", descent)
		o.add("lowest_m", lowest)
		o.add("highest_m", highest)
		o.add("points_without_terrain", r.Profile.Voids())
		points := make([]object, len(r.Profile.Points))
		for k, q := range r.Profile.Points {
			points[k] = object{{"along_m", number(q.AlongM)}, {"height_m", number(q.HeightM)}}
		}
		o.add("points", points)
		o.add("cautions", cautionList(r.HeightCautions))
		out = append(out, o)
	}
	return out
}

// profileFigures are climb, descent, lowest and highest height, nil unless there is
// terrain under all of the line.
func profileFigures(p terrain.Profile) (climb, descent, lowest, highest any) {
	up, down, ok := p.Climb()
	low, high, _ := p.Extremes()
	if !ok {
		return nil, nil, nil, nil
	}
	return number(up), number(down), number(p.Points[low].HeightM), number(p.Points[high].HeightM)
}

func writeProfiles(w io.Writer, rows []leg.Row) error {
	var text strings.Builder
	tw := tabwriter.NewWriter(&text, 0, 1, 2, ' ', 0)
	fmt.Fprintln(tw, "leg\tfrom\tto\tlength\tclimb\tdescent\tlowest\thighest")
	for i, r := range rows {
		fmt.Fprintf(tw, "%d\t%s\t%s\t%s\n", i+1, oneLine(r.From), oneLine(r.To), profileWords(r))
	}
	if err := tw.Flush(); err != nil {
		return err
	}
	_, err := io.WriteString(w, text.String())
	return err
}

func profileWords(r leg.Row) string {
	if r.Err != nil {
		return "error: " + oneLine(r.Err.Error())
	}
	words := fmt.Sprintf("%.0f m", r.Reading.GroundM)
	p := r.Profile
	up, down, ok := p.Climb()
	if !ok {
		return words + strings.Repeat("\t?", 4)
	}
	low, high, _ := p.Extremes()
	return words + fmt.Sprintf("\t%.0f m\t%.0f m\t%.0f m\t%.0f m", up, down, p.Points[low].HeightM, p.Points[high].HeightM)
}
