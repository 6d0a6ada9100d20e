package dial

import "legwright/app/units"

// Figures is what the dial shows, as text made elsewhere. What follows " ± " in
// a text is its uncertainty and is written small. An empty text is a figure
// that is not known.
type Figures struct {
	Set      string // what to set, large: "059° ± 5°"
	SetLabel string // "Set on the housing (magnetic)"

	Grid, Magnetic     string
	Back, BackMagnetic string
	True               string       // shown on request
	Point, Distance    string       // "ENE", "1 240 m ± 20"
	Time, Paces        string       // on the flat; "27 min", "230 double"
	GMA, Rule          string       // "2° east", "grid to magnetic, take off 2"
	Stop               string       // what forbids to walk on it, above the figure to set, which is marked; "" for nothing
	Stops, Notes       []string     // few words of each caution
	Empty              bool         // nothing to read: as after Clear
	Angle              units.Angle  // figure at the index
	NeedleOff          units.Angle  // set − magnetic: needle clockwise from the housing's north
	GateOff            units.Angle  // angle an adjustable housing is set to, east positive; 0 for a plain one
	NoNeedle           bool         // magnetic north is not known
	Circle             units.Circle // graduation of the ring
}

// cell is one reading's label and text.
type cell struct{ label, text string }

// cells lists the readings below the figure to set, two to a row.
func (f Figures) cells(showTrue bool) []cell {
	list := []cell{
		{"Grid", f.Grid},
		{"Magnetic", f.Magnetic},
		{"Back, grid", f.Back},
		{"Back, magnetic", f.BackMagnetic},
	}
	if showTrue {
		list = append(list, cell{"True", f.True}, cell{"GMA", f.GMA})
	}
	return append(list, cell{"Walking, on the flat", f.Time}, cell{"Double paces", f.Paces})
}

// rule is the sentence that takes grid to magnetic.
func (f Figures) rule() string {
	switch {
	case f.GMA == "":
		return f.Rule
	case f.Rule == "":
		return "GMA " + f.GMA
	}
	return "GMA " + f.GMA + ": " + f.Rule
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
