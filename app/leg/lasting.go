package leg

import (
	"fmt"
	"slices"
	"strings"

	"legwright/app/plan"
)

// lasting are the codes of flags that are of how a place came about, so that they
// hold as well where it is read again from an exchange file. The others are found
// again there.
func lasting() []string {
	return []string{Uncalibrated, Contradicted, SheetUnproved, NoRedundancy, SheetWarning, OutsidePoints, LettersLent}
}

// Doubts returns the codes of what goes with a place into an exchange file, each
// once: what is to be said of it here, and what it brought along from such a file.
func (r *Reader) Doubts(pos plan.Position) []string {
	var out []string
	for _, f := range r.FlagsOf(pos) {
		if slices.Contains(lasting(), f.Code) && !slices.Contains(out, f.Code) {
			out = append(out, f.Code)
		}
	}
	for _, code := range strings.Fields(pos.Doubts) {
		if !slices.Contains(out, code) {
			out = append(out, code)
		}
	}
	return out
}

// KnownDoubts returns those of some texts that are codes of Doubts.
func KnownDoubts(texts []string) []string {
	return slices.DeleteFunc(slices.Clone(texts), func(t string) bool { return !slices.Contains(lasting(), t) })
}

// importedFlags tells of places that came from a file which says that they cannot
// be trusted, or that were typed from such a place.
func importedFlags(what string, ends ...place) []Flag {
	var out []Flag
	for _, p := range ends {
		if p.pos.Doubts == "" {
			continue
		}
		f := Flag{ImportedDoubt, fmt.Sprintf("%s rests on a file which says that it cannot be trusted fully: %s",
			what, strings.ReplaceAll(strings.Join(strings.Fields(p.pos.Doubts), ", "), "-", " "))}
		if !slices.Contains(out, f) {
			out = append(out, f)
		}
	}
	return out
}
