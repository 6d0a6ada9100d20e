package session

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/mozillazg/go-unidecode"

	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
)

// importer builds the plan that an import leads to. It appends to its own
// lists and looks names up in maps: files hold tens of thousands of positions.
type importer struct {
	of     *plan.Plan
	sys    *geodesy.System
	report ImportReport

	marks  []plan.Mark // those of the plan, then the new ones
	legs   []plan.Leg  // new ones only
	tracks []plan.Track
	drawn  *plan.Plan // with the new hazards, havens, lines and areas
	postM  float64    // how far apart the posts of the terrain stand, 0 without terrain

	named   map[string]int      // the first mark of a name, folded
	taken   map[string]bool     // letters of ends
	ends    map[string]plan.End // ends of the plan without a mark, by letter
	numbers map[string]int      // the last number tried behind a name
	letters int                 // letter names up to here are taken
	ids     map[plan.Kind]plan.ID
	spots   map[spot][]int // marks of the plan, by where they are

	tick func() error // called for each position; its error ends the work
}

func newImporter(p *plan.Plan, sys *geodesy.System, name string) *importer {
	b := &importer{
		of: p, drawn: p, sys: sys, named: map[string]int{}, numbers: map[string]int{},
		taken: map[string]bool{}, ends: map[string]plan.End{}, ids: map[plan.Kind]plan.ID{},
		spots: map[spot][]int{},
		marks: p.Marks[:len(p.Marks):len(p.Marks)],
		tick:  func() error { return nil },
	}
	b.report.Name = p.ImportName(tidy(name))
	for i, m := range b.marks {
		b.know(m.Name, i)
		at := spotOf(m.Position, 0, 0)
		b.spots[at] = append(b.spots[at], i)
	}
	labels := p.Labels()
	for e := range p.Ends {
		if e.Mark == "" {
			b.taken[folded(labels.Of(e))], b.ends[folded(labels.Of(e))] = true, e
		}
	}
	return b
}

// id returns the ID of the next new thing of a kind.
func (b *importer) id(kind plan.Kind) plan.ID {
	if last := b.ids[kind]; last != "" {
		b.ids[kind] = plan.NextID(kind.Word(), last)
	} else {
		b.ids[kind] = b.of.NextID(kind)
	}
	return b.ids[kind]
}

// plan returns the plan with what was imported.
func (b *importer) plan() *plan.Plan {
	if b.report.added() == 0 {
		b.report.Name = ""
		return b.of
	}
	return b.drawn.AddAll(b.marks[len(b.of.Marks):], b.legs, b.tracks)
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
		if err := b.mark(m); err != nil {
			return err
		}
	}
	for _, r := range in.Routes {
		if err := b.route(r); err != nil {
			return err
		}
	}
	for _, t := range in.Tracks {
		b.track(t, in.Routes)
	}
	for _, x := range in.Shapes {
		if err := b.shape(x); err != nil {
			return err
		}
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

// mark adds a mark, unless it is there already.
func (b *importer) mark(in ImportedPoint) error {
	pos, err := b.position(in)
	if err != nil {
		return fmt.Errorf("mark %q: %w", in.Name, err)
	}
	before := len(b.marks)
	if b.markAt(in, pos); len(b.marks) == before {
		b.report.Known++
	}
	return nil
}

// markAt adds a mark, or finds the one that is there already.
func (b *importer) markAt(in ImportedPoint, pos plan.Position) plan.Mark {
	name := shorten(tidy(in.Name))
	if i, ok := b.known(name, pos); ok {
		return b.marks[i]
	}
	m := plan.Mark{ID: b.id(plan.OfMark), Name: b.free(name), Position: pos, Note: tidyNote(in.Note), Import: b.report.Name}
	b.know(m.Name, len(b.marks))
	b.marks = append(b.marks, m)
	b.report.Marks++
	return m
}

// known returns the index in the list of the mark of that name at that position, or of
// the plan's mark there whose name the file has cut.
func (b *importer) known(name string, pos plan.Position) (int, bool) {
	if name == "" {
		return 0, false
	}
	if i, ok := b.named[folded(name)]; ok && sameSpot(b.marks[i].Position, pos) {
		return i, true
	}
	return b.cut(name, pos)
}

// leastCut is how many letters a name has at least that was cut for a receiver: those
// that show ten, less a stop before it and a blank at the end.
const leastCut = 8

// told is a name to which letters were added that tell it from the same name elsewhere.
var told = regexp.MustCompile(`^(?:(.*[0-9])|(.*)-)[a-z]{1,2}$`)

// ownEnd is an end that is not cut off: a number, a Roman numeral or a letter.
var ownEnd = regexp.MustCompile(`^ ?([0-9][0-9/.,:-]*[a-z]?[^a-z]?|[ivx]+|[a-z])?$`)

// cutOf reports whether a name is a whole one as it is cut for receivers: its first letters, its
// own end, and what tells it from others. Both are in plain letters.
func cutOf(whole, name string) bool {
	if m := told.FindStringSubmatch(name); m != nil {
		name = m[1] + m[2]
	}
	n := 0
	for n < min(len(name), len(whole)) && name[n] == whole[n] {
		n++
	}
	rest := name[n:]
	return n > 0 && ownEnd.MatchString(rest) && strings.HasSuffix(whole[n:], strings.TrimSpace(rest))
}

// cut returns the index of the plan's mark at that position whose name a file has in plain letters,
// or cut because receivers show no more.
func (b *importer) cut(name string, pos plan.Position) (int, bool) {
	plain := func(name string) string { return folded(strings.Join(strings.Fields(unidecode.Unidecode(name)), " ")) }
	long := utf8.RuneCountInString(name) >= leastCut
	same := func(old string) bool { return plain(old) == plain(name) || long && cutOf(plain(old), plain(name)) }
	for e := range 3 {
		for n := range 3 {
			for _, i := range b.spots[spotOf(pos, e-1, n-1)] {
				if m := b.marks[i]; sameSpot(m.Position, pos) && same(m.Name) {
					return i, true
				}
			}
		}
	}
	return 0, false
}

// spot is a square of joinM on a grid.
type spot struct {
	code geodesy.Code
	e, n int
}

// spotOf returns the square that a position lies in, or one so many farther east and
// north.
func spotOf(p plan.Position, east, north int) spot {
	return spot{p.Code, int(math.Floor(p.Grid.E/joinM)) + east, int(math.Floor(p.Grid.N/joinM)) + north}
}

// sameSpot reports whether two positions are the same as far as an exchange file can
// say.
func sameSpot(a, b plan.Position) bool {
	return a.Code == b.Code && math.Hypot(a.Grid.E-b.Grid.E, a.Grid.N-b.Grid.N) <= joinM
}

// free returns the name, numbered where another mark or an end has it.
func (b *importer) free(name string) string {
	taken := func(name string) bool {
		_, mark := b.named[folded(name)]
		return mark || b.taken[folded(name)]
	}
	if name == "" {
		for taken(plan.Letters(b.letters)) {
			b.letters++
		}
		return plan.Letters(b.letters)
	}
	for n := max(b.numbers[folded(name)], 1); ; n++ {
		try := name
		if n > 1 {
			try = fmt.Sprintf("%s %d", name, n)
		}
		if !taken(try) {
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

// route adds a leg between each two points that follow each other. Named points
// become marks. A route that is part of the plan's already adds nothing, so that a
// file exported from the plan can be imported again.
func (b *importer) route(points []ImportedPoint) error {
	var ends []plan.End
	for _, q := range points {
		e, err := b.end(q)
		if err != nil {
			return err
		}
		if len(ends) == 0 || !ends[len(ends)-1].Position.Same(e.Position) { // an end on a mark was made with its position
			ends = append(ends, e)
		}
	}
	if b.hasRoute(ends) {
		b.report.Known += len(ends) - 1
		return nil
	}
	for i := 1; i < len(ends); i++ {
		b.legs = append(b.legs, plan.Leg{ID: b.id(plan.OfLeg), From: ends[i-1], To: ends[i], Import: b.report.Name})
		b.report.Legs++
	}
	return nil
}

// hasRoute reports whether the plan has legs through these ends, one after the other.
func (b *importer) hasRoute(ends []plan.End) bool {
	n := len(ends) - 1
	for first := 0; n > 0 && first+n <= len(b.of.Legs); first++ {
		i := 0
		for i < n && b.of.Legs[first+i].From.Same(ends[i]) && b.of.Legs[first+i].To.Same(ends[i+1]) {
			i++
		}
		if i == n {
			return true
		}
	}
	return false
}

// end finds or makes the end at a route point. A point that is called like an end of
// the plan and lies there is that end.
func (b *importer) end(q ImportedPoint) (plan.End, error) {
	pos, err := b.position(q)
	if err != nil {
		return plan.End{}, fmt.Errorf("route point %q: %w", q.Name, err)
	}
	if e, ok := b.ends[folded(tidy(q.Name))]; ok && sameSpot(e.Position, pos) {
		return e, nil
	}
	if tidy(q.Name) == "" {
		return plan.AtPosition(pos), nil
	}
	return plan.AtMark(b.markAt(q, pos)), nil
}

// track adds a track. One that the plan has, and one that only repeats a route of the
// same file, adds nothing.
func (b *importer) track(t plan.Track, routes [][]ImportedPoint) {
	for _, old := range b.of.Tracks {
		if alike(t.Points, old.Points) {
			b.report.Known++
			return
		}
	}
	for _, r := range routes {
		at := make([]geodesy.LatLon, len(r))
		for i, q := range r {
			at[i] = q.At
		}
		if alike(t.Points, at) {
			return
		}
	}
	t.ID, t.Name, t.Import = b.id(plan.OfTrack), shorten(tidy(t.Name)), b.report.Name
	b.tracks = append(b.tracks, t)
	b.report.Tracks++
}

// alike reports whether two lists are of the same positions, to a tenth of a metre.
func alike(a, b []geodesy.LatLon) bool {
	const near = 1e-6 // degrees
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i].Lat.Deg()-b[i].Lat.Deg()) > near || math.Abs(a[i].Lon.Deg()-b[i].Lon.Deg()) > near {
			return false
		}
	}
	return true
}
