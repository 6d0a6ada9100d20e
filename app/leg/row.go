package leg

import (
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

	// Legs only, on the flat by the party's own figures; zero where they are
	// not set.
	Time       time.Duration // walking
	RunTime    time.Duration // running
	Paces      float64       // double paces
	PacesSigma float64       // one standard deviation of counting them

	TickOff, TooFar, Note string
}

// Legs returns a row for every leg in route order.
func (r *Reader) Legs() []Row {
	labels, rows := r.p.Labels(), make([]Row, 0, len(r.p.Legs))
	for _, l := range r.p.Legs {
		row := r.row(l.ID, l.Name, l.From, l.To, labels)
		row.TickOff, row.TooFar, row.Note = l.TickOff, l.TooFar, l.Note
		row.walk(r.p.Party)
		rows = append(rows, row)
	}
	return rows
}

// Sights returns a row for every sight.
func (r *Reader) Sights() []Row {
	labels, rows := r.p.Labels(), make([]Row, 0, len(r.p.Sights))
	for _, s := range r.p.Sights {
		row := r.row(s.ID, s.Name, s.From, s.To, labels)
		row.Note = s.Note
		rows = append(rows, row)
	}
	return rows
}

func (r *Reader) row(id plan.ID, name string, from, to plan.End, labels plan.Labels) Row {
	row := Row{ID: id, Name: name, From: labels.Of(from), To: labels.Of(to), FromEnd: from, ToEnd: to}
	row.Reading, row.Err = r.Read(r.p.Resolve(from), r.p.Resolve(to))
	return row
}

// walk fills in times and paces over the ground distance on the flat.
func (row *Row) walk(p plan.Party) {
	if row.Err != nil {
		return
	}
	m := row.Reading.GroundM
	row.Time, row.RunTime = timeFor(m, p.SpeedKmh), timeFor(m, p.RunSpeedKmh)
	row.Paces = m / 100 * p.PacesPer100m
	row.PacesSigma = row.Paces * p.PaceSigma
}

// timeFor returns how long m metres take at so many kilometres an hour, 0
// where the speed is not set.
func timeFor(m, kmh float64) time.Duration {
	if kmh <= 0 {
		return 0
	}
	return time.Duration(m / 1000 / kmh * float64(time.Hour))
}
