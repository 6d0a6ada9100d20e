package session

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// ImportSigmaM is the σ per axis, in metres, given to places read from an
// exchange file, which says nothing of its own: that of a hand-held receiver
// under open sky (common practice, no source).
const ImportSigmaM = 5.0

// joinM is how near a route point must lie to a mark of the same name to be
// that mark.
const joinM = 1.0

// ImportedPoint is a named place read from an exchange file.
type ImportedPoint struct {
	Name, Note string
	At         geodesy.LatLon    // WGS 84
	Cautions   []caution.Caution // what the file says against the position
}

// Imported is what was read from an exchange file: points become marks, routes
// legs, tracks are shown.
type Imported struct {
	Marks  []ImportedPoint
	Routes [][]ImportedPoint
	Tracks []plan.Track
}

// ImportReport counts what came of an import.
type ImportReport struct{ Marks, Legs, Tracks, Skipped int }

// String says what came in, for people.
func (r ImportReport) String() string {
	text := fmt.Sprintf("%d marks, %d legs and %d tracks were read", r.Marks, r.Legs, r.Tracks)
	if r.Skipped > 0 {
		text += fmt.Sprintf("; %d were there already or had no length", r.Skipped)
	}
	return text
}

func (s *Session) importSystem(in Imported) (*geodesy.System, error) {
	if sys := s.Reader().System(); sys != nil {
		return sys, nil
	}
	if p := s.Plan(); len(p.Marks) > 0 {
		return s.Reader().SystemOf(p.Marks[0].Position.Code)
	}
	first, ok := in.first()
	if !ok {
		return nil, refuse("there is nothing in the file to bring in")
	}
	if err := first.Check(); err != nil {
		return nil, err
	}
	zone, north := geodesy.UTMZoneFor(first)
	return geodesy.UTM(zone, north), nil
}

// first returns any place of the import.
func (in Imported) first() (geodesy.LatLon, bool) {
	for _, m := range in.Marks {
		return m.At, true
	}
	for _, r := range in.Routes {
		for _, q := range r {
			return q.At, true
		}
	}
	for _, t := range in.Tracks {
		for _, q := range t.Points {
			return q, true
		}
	}
	return geodesy.LatLon{}, false
}

// importer builds the plan that an import leads to. It appends to its own
// lists and looks names up in maps: files hold tens of thousands of places.
type importer struct {
	of     *plan.Plan
	sys    *geodesy.System
	report ImportReport

	marks  []plan.Mark
	legs   []plan.Leg
	tracks []plan.Track

	named   map[string]int // the first mark of a name, folded
	numbers map[string]int // the last number tried behind a name
	letters int            // letter names up to here are taken
	markID  plan.ID        // the next ones
	legID   plan.ID

	tick func() error // called for each place; its error ends the work
}

func newImporter(p *plan.Plan, sys *geodesy.System) *importer {
	b := &importer{
		of: p, sys: sys, named: map[string]int{}, numbers: map[string]int{},
		marks: slices.Clone(p.Marks), legs: slices.Clone(p.Legs), tracks: slices.Clone(p.Tracks),
		markID: p.NextMarkID(), legID: p.NextLegID(),
		tick: func() error { return nil },
	}
	for i, m := range b.marks {
		b.know(m.Name, i)
	}
	return b
}

// plan returns the plan with what was brought in.
func (b *importer) plan() *plan.Plan {
	q := *b.of
	q.Marks, q.Legs, q.Tracks = b.marks, b.legs, b.tracks
	return &q
}

// folded is a name as names are compared.
func folded(name string) string { return strings.ToLower(strings.TrimSpace(name)) }

func (b *importer) know(name string, i int) {
	if _, taken := b.named[folded(name)]; !taken {
		b.named[folded(name)] = i
	}
}

func (b *importer) all(in Imported) error {
	for _, m := range in.Marks {
		if _, err := b.mark(m); err != nil {
			return err
		}
	}
	for _, r := range in.Routes {
		if err := b.route(r); err != nil {
			return err
		}
	}
	for _, t := range in.Tracks {
		t.Name = tidy(t.Name)
		b.tracks = append(b.tracks, t)
		b.report.Tracks++
	}
	return nil
}

func (b *importer) position(q ImportedPoint) (plan.Position, error) {
	if err := b.tick(); err != nil {
		return plan.Position{}, err
	}
	g, _, shift, err := b.sys.FromWGS84(q.At)
	if err != nil {
		return plan.Position{}, err
	}
	pos := plan.ImportedAt(b.sys.Code(), g, math.Hypot(ImportSigmaM, shift.SigmaM))
	pos.Cautions = caution.Format(q.Cautions)
	return pos, nil
}

// mark adds a mark, or finds the one that is there already.
func (b *importer) mark(in ImportedPoint) (plan.Mark, error) {
	pos, err := b.position(in)
	if err != nil {
		return plan.Mark{}, fmt.Errorf("mark %q: %w", in.Name, err)
	}
	name := shorten(tidy(in.Name))
	if m, ok := b.known(name, pos); ok {
		b.report.Skipped++
		return m, nil
	}
	m := plan.Mark{ID: b.markID, Name: b.free(name), Position: pos, Note: tidyNote(in.Note)}
	b.markID = plan.NextID("mark", m.ID)
	b.know(m.Name, len(b.marks))
	b.marks = append(b.marks, m)
	b.report.Marks++
	return m, nil
}

// known returns the mark of that name at that place.
func (b *importer) known(name string, pos plan.Position) (plan.Mark, bool) {
	i, ok := b.named[folded(name)]
	if !ok || name == "" || b.marks[i].Position.Code != pos.Code {
		return plan.Mark{}, false
	}
	m := b.marks[i]
	return m, math.Hypot(m.Position.Grid.E-pos.Grid.E, m.Position.Grid.N-pos.Grid.N) <= joinM
}

// free returns the name, numbered where another mark has it.
func (b *importer) free(name string) string {
	if name == "" {
		for ; ; b.letters++ {
			if _, taken := b.named[folded(plan.Letters(b.letters))]; !taken {
				return plan.Letters(b.letters)
			}
		}
	}
	for n := max(b.numbers[folded(name)], 1); ; n++ {
		try := name
		if n > 1 {
			try = fmt.Sprintf("%s %d", name, n)
		}
		if _, taken := b.named[folded(try)]; !taken {
			b.numbers[folded(name)] = n
			return try
		}
	}
}

// shorten cuts a name to what a mark may have, with room for a number.
func shorten(name string) string {
	if r := []rune(name); len(r) > plan.MaxName-8 {
		return string(r[:plan.MaxName-8])
	}
	return name
}

// route adds a leg between each two points that follow each other. Named
// points become marks.
func (b *importer) route(points []ImportedPoint) error {
	var ends []plan.End
	for _, q := range points {
		e, err := b.end(q)
		if err != nil {
			return err
		}
		ends = append(ends, e)
	}
	for i := 1; i < len(ends); i++ {
		if ends[i-1].Position.Same(ends[i].Position) { // an end on a mark was made with its position
			b.report.Skipped++
			continue
		}
		b.legs = append(b.legs, plan.Leg{ID: b.legID, From: ends[i-1], To: ends[i]})
		b.legID = plan.NextID("leg", b.legID)
		b.report.Legs++
	}
	return nil
}

func (b *importer) end(q ImportedPoint) (plan.End, error) {
	if tidy(q.Name) == "" {
		pos, err := b.position(q)
		return plan.AtPosition(pos), err
	}
	m, err := b.mark(q)
	if err != nil {
		return plan.End{}, err
	}
	return plan.AtMark(m), nil
}
