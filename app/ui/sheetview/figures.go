package sheetview

import (
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/units"
)

// marked puts a mark before figures that nobody may walk on, where there is no room
// to say why.
func marked(text string, stop bool) string {
	if !stop {
		return text
	}
	return strings.TrimSpace("! " + text)
}

// lineText is written along the line being dragged, after the figure to set: what
// that figure is, the other bearing and the distance.
func lineText(r leg.Reading, c units.Circle) string {
	closed := r.Closed(c)
	distance := "  " + units.Metres(r.GroundM, r.DistanceSigmaM)
	half := c.Half(r.MagneticSigma)
	if half != "" {
		half = " " + half
	}
	switch r.SetKind {
	case leg.SetMagnetic:
		return "mag" + half + "  " + closed.Grid + " grid" + distance
	case leg.SetGrid:
		return "grid" + half + "  " + closed.Magnetic + " mag" + distance
	}
	return bearings(r, c) + distance
}

// bearings writes both bearings with their north, each with its ±.
func bearings(r leg.Reading, c units.Circle) string {
	text, magnetic := r.Figures(c)
	if magnetic != "" {
		text += "  " + magnetic
	}
	return text
}

// stripTexts is what the strip repeats of the reading it offers to keep, from long to
// short, and where it ends. lead are the words of its stops, "" for none, which come first and stay longest, then the hazard that the line
// comes near. Of the figures the one to set stays longest: who reads a narrow strip sets the
// compass by it.
func stripTexts(r leg.Reading, c plan.Compass, to, lead string) []string {
	set, rest := r.SetFigures(c), others(r, c.Circle)
	if r.SetKind != leg.SetNone {
		set = "Set " + set
	}
	distance := "  " + units.Metres(r.GroundM, r.DistanceSigmaM)
	if to != "" {
		to = "\nto " + to
	}
	near := nearWords(r.Cautions)
	if lead != "" {
		least, _, _ := strings.Cut(lead, ":") // "STOP" or "As a leg"
		if least != "STOP" {
			least += ": STOP"
		}
		return slices.Compact([]string{lead + near + ";  " + set + rest + distance + to, lead + near + ";  " + set + to, lead + near + to, lead + to, lead, least})
	}
	if near = strings.TrimPrefix(near, ": "); near != "" {
		near += ";  "
	}
	return slices.Compact([]string{near + set + rest + distance + "  " + r.Point + to, near + set + distance + to, near + set + to, near + set, set, ""})
}

// nearWords say which hazard a line comes near, the first that is named: ": comes within 12 m of
// crag 1"; "" for none.
func nearWords(list []caution.Caution) string {
	for _, c := range list {
		if c.Code == caution.NearHazard || c.Code == caution.PassesHazard {
			return ": comes " + c.Args[0]
		}
	}
	return ""
}

// others writes the bearings beside the one to set, each after two blanks.
func others(r leg.Reading, c units.Circle) string {
	grid, magnetic := r.Figures(c)
	switch r.SetKind {
	case leg.SetMagnetic:
		return "  " + grid
	case leg.SetGrid:
		return "  " + magnetic
	case leg.SetAdjusted:
		return "  " + grid + "  " + magnetic
	}
	return "" // the grid bearing stands in place of the one to set
}
