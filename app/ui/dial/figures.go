package dial

import (
	"slices"

	"legwright/app/ui/dial/housing"
	"legwright/app/units"
)

// Figures is what the dial shows, as text made elsewhere. What follows " ± " in
// a text is its uncertainty and is written small. An empty text is a figure
// that is not known.
type Figures struct {
	Set             string        // what to set, large: "059° ± 5°"
	SetLabel        string        // "Set on the housing (magnetic)"
	Point, Distance string        // "east-north-east", "1 240 m ± 20"
	Texts           Texts         // the readings below the figure to set
	Stop            string        // what forbids to walk on it, above the figure to set, which is marked; "" for nothing
	Stops, Notes    []string      // few words of each caution
	AsSight         bool          // Stop speaks of walking the line alone: the figure may be set for a sight, and is not struck
	Face            housing.State // what the face draws
	Empty           bool          // nothing to read: as after Clear

	hint string // of an empty dial
}

// empty is what a cleared dial shows.
func empty(c units.Circle, hint string) *Figures {
	return &Figures{Empty: true, Face: housing.State{Circle: c, Gate: true}, hint: hint}
}

// Text names a reading below the figure to set.
type Text int

// The readings.
const (
	Grid Text = iota
	Magnetic
	Back
	BackMagnetic
	True  // shown on request
	Time  // walking: "27 min", or "27 min if flat" where its climb is not known
	Paces // double ones on the flat: "230"
	GMA   // "2° east"
	Rule  // "grid to magnetic, take off 2"
	readings
)

// Texts are the readings, each by its name.
type Texts [readings]string

// cell is one reading's label and text.
type cell struct{ label, text string }

// cells lists the readings below the figure to set, two to a row.
func (f Figures) cells(showTrue bool) []cell {
	list := []cell{
		{"Grid", f.Texts[Grid]},
		{"Magnetic", f.Texts[Magnetic]},
		{"Back, grid", f.Texts[Back]},
		{"Back, magnetic", f.Texts[BackMagnetic]},
	}
	if showTrue {
		list = append(list, cell{"True", f.Texts[True]}, cell{"GMA", f.Texts[GMA]})
	}
	return append(list, cell{"Walking", f.Texts[Time]}, cell{"Double paces", f.Texts[Paces]})
}

// rule is the sentence that takes grid to magnetic.
func (f Figures) rule() string {
	switch gma, rule := f.Texts[GMA], f.Texts[Rule]; {
	case gma == "":
		return rule
	case rule == "":
		return "GMA " + gma
	default:
		return "GMA " + gma + ": " + rule
	}
}

// same reports whether two show the same.
func same(a, b Figures) bool {
	if !slices.Equal(a.Stops, b.Stops) || !slices.Equal(a.Notes, b.Notes) {
		return false
	}
	words := func(f Figures) [6]string { return [6]string{f.Set, f.SetLabel, f.Point, f.Distance, f.Stop, f.hint} }
	return words(a) == words(b) && a.Texts == b.Texts && a.Empty == b.Empty && a.AsSight == b.AsSight && a.Face == b.Face
}

// circleName names the graduation in the corner of the panel.
func circleName(c units.Circle) string {
	switch c {
	case units.Mils6400:
		return "6400 mils"
	case units.Gon400:
		return "400 gon"
	}
	return "360°"
}
