package leg

import (
	"fmt"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// ExportPoint is a named place with a description, on WGS 84.
type ExportPoint struct {
	Name, Desc string
	At         geodesy.LatLon
	Doubts     []string // codes of what is to be said of the place wherever it is read again: see Reader.Doubts
}

// Exported is a plan as plain named points, for exchange formats.
type Exported struct {
	Title  string
	Marks  []ExportPoint
	Routes [][]ExportPoint // one for each unbroken chain of legs; each has two points or more
	Notes  []string        // what must be said of the whole, such as that the sheet is unproved
	Error  string          // what the ± of its bearings leaves out; "" for nothing
}

// Export turns the plan's marks and legs into plain points. Each point of a
// route describes the leg that starts there: bearings that close in the head,
// distance, date and flags. A break in the route begins a new one. The error
// is that of the first leg or mark that cannot be computed.
func Export(p *plan.Plan) (Exported, error) {
	r, err := NewReader(p)
	if err != nil {
		return Exported{}, err
	}
	out := Exported{Title: p.Title, Error: CompassWords(p.Party.Compass)}
	for _, f := range r.SheetFlags() {
		out.Notes = append(out.Notes, f.Text)
	}
	if out.Marks, err = r.exportMarks(); err != nil {
		return Exported{}, err
	}
	out.Routes, err = r.exportRoutes()
	return out, err
}

func (r *Reader) exportMarks() ([]ExportPoint, error) {
	var out []ExportPoint
	labels := r.p.Labels()
	for _, m := range r.p.Marks {
		sys, err := r.SystemOf(m.Position.Code)
		if err != nil {
			return nil, fmt.Errorf("mark %q: %w", m.Name, err)
		}
		at, _, err := sys.ToWGS84(m.Position.Grid)
		if err != nil {
			return nil, fmt.Errorf("mark %q: %w", m.Name, err)
		}
		out = append(out, ExportPoint{Name: labels.OfMark(m), Desc: described(m.Note, r.FlagsOf(m.Position)), At: at, Doubts: r.Doubts(m.Position)})
	}
	return out, nil
}

// described is a text and why its place cannot be trusted: devices show a
// point without what the file says of the whole.
func described(text string, flags []Flag) string {
	var parts []string
	if text != "" {
		parts = append(parts, text)
	}
	for _, f := range flags {
		parts = append(parts, f.Text)
	}
	return strings.Join(parts, "; ")
}

func (r *Reader) exportRoutes() ([][]ExportPoint, error) {
	var out [][]ExportPoint
	var last plan.End
	for i, row := range r.Legs() {
		if row.Err != nil {
			return nil, fmt.Errorf("leg %d, %s to %s: %w", i+1, row.From, row.To, row.Err)
		}
		if len(out) == 0 || !last.Same(row.FromEnd) {
			out = append(out, []ExportPoint{{Name: row.From, At: row.Reading.FromLatLon, Doubts: r.Doubts(r.p.Resolve(row.FromEnd))}})
		}
		route := &out[len(out)-1]
		(*route)[len(*route)-1].Desc = r.Describe(i+1, row)
		to := r.p.Resolve(row.ToEnd)
		*route = append(*route, ExportPoint{Name: row.To, Desc: described("end of leg "+fmt.Sprint(i+1), r.FlagsOf(to)), At: row.Reading.ToLatLon, Doubts: r.Doubts(to)})
		last = row.ToEnd
	}
	return out, nil
}

// Describe says in one line what there is to say of the n-th leg, counted from
// 1: "leg 1, A to B: 057° grid, GMA 2° east, 055° mag ± 2°, 1240 m ± 20; 25
// November 2026; …flags".
func (r *Reader) Describe(n int, row Row) string {
	x, c := row.Reading, r.compass.Circle
	grid, magnetic := x.Figures(c)
	parts := []string{fmt.Sprintf("leg %d, %s to %s: %s", n, row.From, row.To, grid)}
	if x.HasMagnetic {
		parts = append(parts, "GMA "+x.Closed(c).GMA, magnetic)
	} else {
		parts = append(parts, "no magnetic bearing")
	}
	parts = append(parts, units.Metres(x.GroundM, x.DistanceSigmaM))
	text := strings.Join(parts, ", ") + "; " + r.dateWords()
	if row.TickOff != "" {
		text += "; on the way: " + row.TickOff
	}
	if row.TooFar != "" {
		text += "; gone too far if " + row.TooFar
	}
	for _, f := range x.Flags {
		text += "; " + f.Text
	}
	return text
}

func (r *Reader) dateWords() string {
	if r.date.IsZero() {
		return "no date set"
	}
	return r.date.Words()
}
