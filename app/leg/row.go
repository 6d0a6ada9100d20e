package leg

import (
	"reflect"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"legwright/app/plan"
)

// Row is one line of the ledger: a leg or a sight with its reading.
type Row struct {
	ID       plan.ID
	Name     string
	From, To string // labels of the ends: a mark's name or a letter
	FromEnd  plan.End
	ToEnd    plan.End
	Reading  Reading // zero where Err is not nil
	Err      error

	Timed // legs only

	Heights // legs only

	Met // legs only: hazards; what speaks against the leg stands in the cautions of Reading

	TickOff, Catching, Note string
}

// Legs returns a row for every leg in route order. The slice is computed once; do
// not write into it.
func (r *Reader) Legs() []Row {
	r.rows.once.Do(r.readRows)
	return r.rows.legs
}

// Sights returns a row for every sight. The slice is computed once; do not write
// into it.
func (r *Reader) Sights() []Row {
	r.rows.once.Do(r.readRows)
	return r.rows.sights
}

// Labels returns the names of the plan's ends, made once with the rows.
func (r *Reader) Labels() plan.Labels {
	r.rows.once.Do(r.readRows)
	return r.rows.labels
}

// rows caches the rows of a plan. With hundreds of legs reading them all takes
// longer than the rest of an act, so a reader takes over the previous reader's
// readings between unchanged ends, and all rows where nothing differs that they show.
type rows struct {
	once         sync.Once
	legs, sights []Row
	labels       plan.Labels
	known        atomic.Pointer[readings] // of the plan before, then of this one; nil for none
	before       *readings                // of a plan before, over the same heights; nil for none
}

// readings are the results of reading between ends. They do not change once a
// reader has them.
type readings map[ends]read

// ends are the two positions of a reading.
type ends struct{ from, to plan.Position }

// read is the result of reading between two ends, and the ground between them where it was asked for.
type read struct {
	reading Reading
	err     error
	relief  *relief // nil until a leg asks
}

// readsAlike reports whether a position means the same to another reader, so that
// readings between the same ends are equal.
func (r *Reader) readsAlike(next *Reader) bool {
	return r.p != nil && r.date == next.date && r.compass == next.compass && slices.EqualFunc(r.sheets, next.sheets, calibrated.readsAlike)
}

// rowsAlike reports whether another reader has the same rows: its sheets read alike, and their
// plans differ in nothing else, as while a control point moves. Plans that share their lists
// are compared in a moment.
func (r *Reader) rowsAlike(next *Reader) bool {
	if !r.readsAlike(next) || r.model != next.model || r.err != nil || len(r.p.KindsApart(next.p)) > 0 {
		return false
	}
	p, q := *r.p, *next.p
	p.Sheets, q.Sheets = nil, nil
	return reflect.DeepEqual(&p, &q)
}

// SharesRows reports whether another reader took over all rows, or gave its own: then there is
// nothing else to say of the lines of either plan.
func (r *Reader) SharesRows(other *Reader) bool { return r.rows == other.rows }

// readsAlike reports whether everything picked on both sheets reads the same.
func (s calibrated) readsAlike(t calibrated) bool {
	return s.id == t.id && s.code == t.code && s.c == t.c && s.name == t.name && s.ground == t.ground &&
		s.letters == t.letters && s.lettersWords == t.lettersWords && slices.Equal(s.cautions, t.cautions)
}

// grounds are readings whose ground is still known to the next reader, however its sheets
// are calibrated and judged: between the same two ends it is the same. nil for none.
func (r *Reader) grounds(next *Reader) *readings {
	if r.p == nil || r.model != next.model || r.main == nil || next.main == nil || r.main.sys.Code() != next.main.sys.Code() {
		return nil
	}
	if known := r.rows.known.Load(); known != nil {
		return known
	}
	return r.rows.before
}

// readRows reads every leg and sight.
func (r *Reader) readRows() {
	w, all := r.rows, make(readings, len(r.p.Legs)+len(r.p.Sights))
	at, labels := r.p.Positions(), r.p.Labels()
	w.labels = labels
	w.legs = make([]Row, 0, len(r.p.Legs))
	for _, l := range r.p.Legs {
		row := r.row(l.ID, l.Name, l.From, l.To, labels, at, all)
		r.heights(&row, l, r.between(ends{at.Of(l.From), at.Of(l.To)}, all))
		if row.Err == nil {
			row.Met = r.meetHazards(&row.Reading, at.Of(l.From), at.Of(l.To), false)
		}
		row.TickOff, row.Catching, row.Note = l.TickOff, l.Catching, l.Note
		w.legs = append(w.legs, row)
	}
	r.time(w.legs)
	w.sights = make([]Row, 0, len(r.p.Sights))
	for _, s := range r.p.Sights {
		row := r.row(s.ID, s.Name, s.From, s.To, labels, at, all)
		row.Note = s.Note
		w.sights = append(w.sights, row)
	}
	w.known.Store(&all)
}

func (r *Reader) row(id plan.ID, name string, from, to plan.End, labels plan.Labels, at plan.Positions, all readings) Row {
	row := Row{ID: id, Name: name, From: labels.Of(from), To: labels.Of(to), FromEnd: from, ToEnd: to}
	key := ends{at.Of(from), at.Of(to)}
	known, ok := all[key]
	if earlier := r.rows.known.Load(); !ok && earlier != nil {
		known, ok = (*earlier)[key]
	}
	if !ok {
		known.reading, known.err = r.Read(key.from, key.to)
	}
	all[key] = known
	row.Reading, row.Err = known.reading, known.err
	return row
}

// between is the ground between two ends that have been read.
func (r *Reader) between(key ends, all readings) relief {
	known := all[key]
	if known.err != nil {
		return relief{convexM: -1}
	}
	if known.relief == nil && r.rows.before != nil {
		known.relief = (*r.rows.before)[key].relief
	}
	if known.relief == nil {
		g := r.groundBetween(key.from, key.to)
		known.relief = &g
	}
	all[key] = known
	return *known.relief
}

// timeFor returns how long m metres take at so many kilometres an hour, 0
// where the speed is not set.
func timeFor(m, kmh float64) time.Duration {
	if kmh <= 0 {
		return 0
	}
	return time.Duration(m / 1000 / kmh * float64(time.Hour))
}
