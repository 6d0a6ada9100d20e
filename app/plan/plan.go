package plan

import (
	"errors"
	"slices"
	"time"

	"legwright/app/geodesy"
)

// ErrChangedOnDisk is returned by a store that is asked to save over a file
// that has changed since it was read. Nothing has been written.
var ErrChangedOnDisk = errors.New("the plan file has been changed by another program since it was opened")

// Stamp is what a plan file looked like when it was read or written. The zero
// Stamp means that nothing is known of the file.
type Stamp struct {
	ModTime time.Time
	Size    int64 // bytes
	SHA256  [32]byte
}

// IsZero reports whether the stamp says nothing.
func (s Stamp) IsZero() bool { return s.Size == 0 && s.SHA256 == [32]byte{} }

// Same reports whether two stamps are of the same content. The time does not
// count: a copied or touched file is not a changed one.
func (s Stamp) Same(t Stamp) bool { return s.Size == t.Size && s.SHA256 == t.SHA256 }

// Overwrite says what saving a plan may replace. The zero value allows any content,
// but no read-only file.
type Overwrite struct {
	Expect   Stamp // what the file was last seen to be; the zero Stamp is anything
	ReadOnly bool  // a read-only file too: the person has agreed
}

// Track is a recorded track, shown but not edited.
type Track struct {
	Name   string
	Points []geodesy.LatLon // WGS 84
}

// Plan is the document. Treat it as read-only: its slices are shared between
// plans.
type Plan struct {
	Title  string
	Date   Date
	Party  Party
	Sheets []Sheet // one to begin with; all of them on one grid
	Marks  []Mark
	Legs   []Leg // in route order
	Sights []Sight
	Tracks []Track
	Extra  Extra
	Mended []string // what had to be changed in reading its file, for people; never written
}

// New returns an empty plan for the given day with the default party.
func New(date Date) *Plan { return &Plan{Date: date, Party: DefaultParty()} }

// Sheet returns the first sheet. It reports false where there is none.
func (p *Plan) Sheet() (Sheet, bool) {
	if len(p.Sheets) == 0 {
		return Sheet{}, false
	}
	return p.Sheets[0], true
}

// SheetByID returns the sheet with that ID.
func (p *Plan) SheetByID(id ID) (Sheet, bool) {
	return find(p.Sheets, func(s Sheet) bool { return s.ID == id })
}

// SheetOf returns the sheet whose picture has that SHA-256 and is that page.
func (p *Plan) SheetOf(sha string, page Page) (Sheet, bool) {
	return find(p.Sheets, func(s Sheet) bool { return sha != "" && s.SHA256 == sha && s.Page == page })
}

// Code returns the grid of the plan's sheets, or "" while none has one.
func (p *Plan) Code() geodesy.Code {
	s, _ := find(p.Sheets, func(s Sheet) bool { return s.Code != "" })
	return s.Code
}

// SheetsUsed returns the IDs of the sheets that a mark, or an end of a leg or
// sight, was picked on or hangs on.
func (p *Plan) SheetsUsed() map[ID]bool {
	used := map[ID]bool{}
	for pos := range p.positions {
		if pos.Origin == Picked || pos.Hangs() {
			used[pos.Sheet] = true
		}
	}
	return used
}

// SheetsLending returns the IDs of the sheets that supplied the letters of a
// reference that was typed without.
func (p *Plan) SheetsLending() map[ID]bool {
	lends := map[ID]bool{}
	for pos := range p.positions {
		lends[pos.LettersOf] = true
	}
	delete(lends, "")
	return lends
}

// Grids returns the grids of the plan's sheets, marks and ends, each once, the
// sheets' first.
func (p *Plan) Grids() []geodesy.Code {
	var list []geodesy.Code
	seen := map[geodesy.Code]bool{"": true}
	add := func(code geodesy.Code) {
		if !seen[code] {
			seen[code], list = true, append(list, code)
		}
	}
	for _, s := range p.Sheets {
		add(s.Code)
	}
	for pos := range p.positions {
		add(pos.Code)
	}
	return list
}

// Ends yields both ends of every leg, in route order, and of every sight.
func (p *Plan) Ends(yield func(End) bool) {
	for _, l := range p.Legs {
		if !yield(l.From) || !yield(l.To) {
			return
		}
	}
	for _, s := range p.Sights {
		if !yield(s.From) || !yield(s.To) {
			return
		}
	}
}

// positions yields the position of every mark, and of every end without a mark.
func (p *Plan) positions(yield func(Position) bool) {
	for _, m := range p.Marks {
		if !yield(m.Position) {
			return
		}
	}
	for e := range p.Ends {
		if e.Mark == "" && !yield(e.Position) {
			return
		}
	}
}

// MarkByID returns the mark with that ID.
func (p *Plan) MarkByID(id ID) (Mark, bool) {
	return find(p.Marks, func(m Mark) bool { return m.ID == id })
}

// MarkByName returns the first mark with that name, regardless of case.
func (p *Plan) MarkByName(name string) (Mark, bool) {
	return find(p.Marks, func(m Mark) bool { return sameName(m.Name, name) })
}

// LegByID returns the leg with that ID.
func (p *Plan) LegByID(id ID) (Leg, bool) {
	return find(p.Legs, func(l Leg) bool { return l.ID == id })
}

// LegIndex returns the leg's place in the route, or −1.
func (p *Plan) LegIndex(id ID) int {
	return slices.IndexFunc(p.Legs, func(l Leg) bool { return l.ID == id })
}

// SightByID returns the sight with that ID.
func (p *Plan) SightByID(id ID) (Sight, bool) {
	return find(p.Sights, func(s Sight) bool { return s.ID == id })
}

func find[T any](list []T, is func(T) bool) (T, bool) {
	if i := slices.IndexFunc(list, is); i >= 0 {
		return list[i], true
	}
	var none T
	return none, false
}

// Resolve returns the position of an end: its mark's where it stands on one,
// else its own.
func (p *Plan) Resolve(e End) Position {
	if e.Mark != "" {
		if m, ok := p.MarkByID(e.Mark); ok {
			return m.Position
		}
	}
	return e.Position
}

// Places finds the positions of many ends of one plan; Resolve would search all
// marks for each.
type Places struct{ marks map[ID]Position }

// Places prepares Places for the plan.
func (p *Plan) Places() Places {
	at := Places{make(map[ID]Position, len(p.Marks))}
	for _, m := range p.Marks {
		at.marks[m.ID] = m.Position
	}
	return at
}

// Of returns the position of an end, as Resolve does.
func (at Places) Of(e End) Position {
	if e.Mark != "" {
		if pos, ok := at.marks[e.Mark]; ok {
			return pos
		}
	}
	return e.Position
}
