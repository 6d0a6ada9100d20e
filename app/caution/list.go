package caution

import (
	"slices"
	"strings"
)

// Worst returns the gravest grade among cautions that speak of any of the figures
// in on.
func Worst(list []Caution, on Affects) Grade {
	worst := None
	for _, c := range list {
		if c.Affects&on != 0 {
			worst = max(worst, c.Grade())
		}
	}
	return worst
}

// Stops reports whether any of the cautions forbids to walk on one of the figures.
func Stops(list []Caution, on Affects) bool { return Worst(list, on) == Stop }

// OfGrade returns the cautions of one grade, in their order.
func OfGrade(list []Caution, g Grade) []Caution {
	var out []Caution
	for _, c := range list {
		if c.Grade() == g {
			out = append(out, c)
		}
	}
	return out
}

// OfLeg returns the cautions that belong beside a bearing and a distance: all but
// notes on latitude and longitude, which stand with the sheet and in exports.
func OfLeg(list []Caution) []Caution {
	var out []Caution
	for _, c := range list {
		if c.Affects&OnLeg != 0 || c.Stop() {
			out = append(out, c)
		}
	}
	return out
}

// GravestFirst returns the cautions each once, stops before notes, else in their
// order.
func GravestFirst(list []Caution) []Caution {
	var out []Caution
	for _, g := range []Grade{Stop, Note} {
		for _, c := range OfGrade(list, g) {
			if !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// Has reports whether a caution of that code is in the list.
func Has(list []Caution, code Code) bool {
	return slices.ContainsFunc(list, func(c Caution) bool { return c.Code == code })
}

// Shorts are the short words of the cautions, the gravest first, each once.
func Shorts(list []Caution) []string {
	var out []string
	for _, c := range GravestFirst(list) {
		if s := c.Short(); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// Lead returns the first words for a text that carries figures: "STOP: " and what
// the stops say of any of them, in short, or "" where there is none. Whoever cuts
// the text off keeps these words.
func Lead(list []Caution, on Affects) string {
	var words []string
	for _, c := range OfGrade(list, Stop) {
		if s := c.Short(); c.Affects&on != 0 && !slices.Contains(words, s) {
			words = append(words, s)
		}
	}
	if words == nil {
		return ""
	}
	return "STOP: " + strings.Join(words, ", ")
}

// LeadDragged is Lead for a line that somebody drags and has not kept. It may be a sight across a
// valley: where every stop speaks of walking the line, and none of its bearing, it begins with
// "As a leg: " and onFoot is true.
func LeadDragged(list []Caution, on Affects) (lead string, onFoot bool) {
	lead = Lead(list, on)
	for _, c := range OfGrade(list, Stop) {
		if c.Affects&on != 0 && !c.onFoot() {
			return lead, false
		}
	}
	words, onFoot := strings.CutPrefix(lead, "STOP: ")
	if onFoot {
		lead = "As a leg: " + words
	}
	return lead, onFoot
}

// onFoot reports whether the caution speaks of walking the line alone, so not against a sight.
func (c Caution) onFoot() bool {
	switch c.Code {
	case NearHazard, HazardUncertain, EntersPrivate, EntersPlantation:
		return true
	}
	return false
}
