package leg

import (
	"fmt"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/units"
)

// ExportPoint is a named position with a description, on WGS 84. The description
// begins with the stops, for receivers cut off what is long.
type ExportPoint struct {
	Name, Desc string
	At         geodesy.LatLon
	Cautions   []caution.Caution // what speaks against it, or against the leg that it describes
	Lasting    []caution.Caution // what goes with it wherever it is read again: see Reader.Lasting
}

// Exported is a plan as plain named points, for exchange formats.
type Exported struct {
	Title  string
	Marks  []ExportPoint
	Routes [][]ExportPoint // one for each of the plan's Chains; each has two points or more
	Error  string          // what the ± of its bearings leaves out; "" for nothing

	Cautions []caution.Caution // what speaks against the sheets, such as that one is unchecked, and against all terrain
}

// Export turns the plan's marks and legs into plain points, over the heights of its terrain, nil
// for none. Each point of a
// route describes the leg that starts there: bearings that close in the head,
// distance, date and cautions. A break in the route begins a new one. The error
// is that of the first leg or mark that cannot be computed.
func Export(p *plan.Plan, m *terrain.Model) (Exported, error) {
	r, err := NewReader(p)
	if err != nil {
		return Exported{}, err
	}
	r = r.Over(m)
	out := Exported{Title: p.Title, Error: CompassWords(p.Party.Compass)}
	out.Cautions = r.said()
	if out.Marks, err = r.exportMarks(); err != nil {
		return Exported{}, err
	}
	out.Routes, err = r.exportRoutes()
	return out, err
}

func (r *Reader) exportMarks() ([]ExportPoint, error) {
	var out []ExportPoint
	for _, m := range r.p.Marks {
		sys, err := r.SystemOf(m.Position.Code)
		if err != nil {
			return nil, fmt.Errorf("mark %q: %w", m.Name, err)
		}
		at, _, err := sys.ToWGS84(m.Position.Grid)
		if err != nil {
			return nil, fmt.Errorf("mark %q: %w", m.Name, err)
		}
		out = append(out, r.exportPoint(m.Name, m.Note, at, m.Position))
	}
	return out, nil
}

// exportPoint is a position with a text and what speaks against it.
func (r *Reader) exportPoint(name, text string, at geodesy.LatLon, pos plan.Position) ExportPoint {
	list := r.CautionsOf(pos)
	return ExportPoint{Name: name, Desc: r.Described(text, list), At: at, Cautions: list, Lasting: r.Lasting(pos)}
}

// Described puts the stops before a text, in few words, and the sentences of its
// cautions after it. What the sheets' own cautions say in full stands once, in what
// the file says of the whole.
func (r *Reader) Described(text string, list []caution.Caution) string {
	var parts []string
	for _, part := range []string{caution.Lead(list, caution.All), text} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	said := r.said()
	var sentences []string
	for _, c := range caution.GravestFirst(list) {
		if !slices.Contains(said, c) {
			sentences = append(sentences, c.Text())
		}
	}
	if sentences != nil {
		parts = append(parts, CautionsIn+strings.Join(sentences, " "))
	}
	return strings.Join(parts, "; ")
}

// said is what an export says once, in what it says of the whole.
func (r *Reader) said() []caution.Caution {
	return caution.GravestFirst(slices.Concat(r.SheetCautions(), r.GroundCautions()))
}

// CautionsIn begins the sentences of the cautions at the end of a description.
const CautionsIn = "Cautions: "

func (r *Reader) exportRoutes() ([][]ExportPoint, error) {
	rows := r.Legs()
	for i, row := range rows {
		if row.Err != nil {
			return nil, fmt.Errorf("leg %d, %s to %s: %w", i+1, row.From, row.To, row.Err)
		}
	}
	var out [][]ExportPoint
	for _, chain := range r.p.Chains() {
		first := rows[chain.First]
		route := []ExportPoint{r.exportPoint(first.From, "", first.Reading.FromLatLon, r.p.Resolve(first.FromEnd))}
		for i := chain.First; i <= chain.Last; i++ {
			row, from := rows[i], &route[len(route)-1]
			from.Desc, from.Cautions = r.Describe(i+1, row), slices.Concat(from.Cautions, row.Cautions())
			route = append(route, r.exportPoint(row.To, "end of leg "+fmt.Sprint(i+1), row.Reading.ToLatLon, r.p.Resolve(row.ToEnd)))
		}
		out = append(out, route)
	}
	return out, nil
}

// Describe says in one line what there is to say of the n-th leg, counted from
// 1: "STOP: bearing too vague; leg 1, A to B: 057° grid ± 1°, GMA 2° east, 055° mag ± 2°,
// 1240 m ± 20; 25 November 2026; …cautions". Each bearing has its ±, also one of a single
// printed step: whoever reads it has no sheet to look at.
func (r *Reader) Describe(n int, row Row) string {
	text := fmt.Sprintf("leg %d, %s to %s: %s; %s", n, row.From, row.To, r.InWords(row.Reading), r.dateWords())
	for _, words := range row.CrossingWords() {
		text += "; " + words
	}
	if row.TickOff != "" {
		text += "; tick off: " + row.TickOff
	}
	if row.Catching != "" {
		text += "; catching feature: " + row.Catching
	}
	return r.Described(text, row.Cautions())
}

// InWords are the bearings and the length of a reading, each with its ±: "057° grid ± 1°, GMA
// 2° east, 055° mag ± 2°, 1240 m ± 20".
func (r *Reader) InWords(x Reading) string {
	c := r.compass.Circle
	closed := x.Closed(c)
	parts := []string{closed.Grid + " grid " + c.FullHalf(x.BearingSigma)}
	if x.HasMagnetic {
		parts = append(parts, "GMA "+closed.GMA, closed.Magnetic+" mag "+c.FullHalf(x.MagneticSigma))
	} else {
		parts = append(parts, "no magnetic bearing")
	}
	sigmaM := x.DistanceSigmaM
	if sigmaM <= 0 {
		sigmaM = wholeMetreSigmaM
	}
	return strings.Join(append(parts, units.Metres(x.GroundM, sigmaM)), ", ")
}

// wholeMetreSigmaM makes "± 1 m" of a distance between coordinates that are typed as
// exact: it is written to the metre.
const wholeMetreSigmaM = 0.5

func (r *Reader) dateWords() string {
	if r.date.IsZero() {
		return "no date set"
	}
	return r.date.Words()
}
