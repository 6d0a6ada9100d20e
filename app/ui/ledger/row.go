// Package ledger is the table of legs below the sheet, one row a leg in the
// order of a route card. It shows text it is given and calls back; it knows
// nothing of plans, grids or files.
package ledger

// Row is one leg as text. ID names the leg in every callback.
type Row struct {
	ID       string
	Stopped  bool // nobody may walk on it: marked in front
	Number   string
	From     string
	FromRef  string
	To       string
	ToRef    string
	Grid     string
	GridHalf string // its ±, where it exceeds the printed step
	Magnetic string
	MagHalf  string
	Back     string // with its north: "239° grid"
	BackMag  string
	Distance string
	DistHalf string
	Time     string
	RunTime  string
	TickOff  string
	TooFar   string
	Note     string
}

// Column names one column of the ledger.
type Column int

// The columns from left to right.
const (
	Number Column = iota
	From
	To
	Grid
	Magnetic
	Back
	Distance
	Time
	RunTime
	TickOff
	TooFar
	Note
	columns // how many there are
)

// spec says how one column is drawn: its heading, the width it wants, the
// least it takes, and whether its cells are edited in place.
type spec struct {
	head      string
	want, min float32
	figure    bool // set to the right, with its second line
	edit      bool
}

func specs() [columns]spec {
	return [columns]spec{
		Number:   {"leg", 40, 36, false, false},
		From:     {"from", 150, 118, false, true},
		To:       {"to", 150, 118, false, true},
		Grid:     {"grid", 72, 72, true, true},
		Magnetic: {"magnetic", 76, 72, true, true},
		Back:     {"back", 102, 100, true, false},
		Distance: {"distance", 96, 86, true, true},
		Time:     {"walking", 70, 64, true, false},
		RunTime:  {"running", 70, 64, true, false},
		TickOff:  {"tick off on the way", 190, 88, false, true},
		TooFar:   {"gone too far if", 190, 84, false, true},
		Note:     {"note", 190, 42, false, true},
	}
}

// cell returns the two lines of a cell; the second is empty in most columns.
func (r Row) cell(c Column) (text, under string) {
	switch c {
	case Number:
		if r.Stopped {
			return r.Number + " !", ""
		}
		return r.Number, ""
	case From:
		return r.From, r.FromRef
	case To:
		return r.To, r.ToRef
	case Grid:
		return r.Grid, r.GridHalf
	case Magnetic:
		return r.Magnetic, r.MagHalf
	case Back:
		return r.Back, r.BackMag
	case Distance:
		return r.Distance, r.DistHalf
	case Time:
		return r.Time, ""
	case RunTime:
		return r.RunTime, ""
	case TickOff:
		return r.TickOff, ""
	case TooFar:
		return r.TooFar, ""
	}
	return r.Note, ""
}

// spans returns where each column begins and how wide it is, in total units
// of width: the wanted widths stretched, or shrunk towards the least.
func spans(total float32) (at, width [columns]float32) {
	var want, least float32
	all := specs()
	for _, s := range all {
		want, least = want+s.want, least+s.min
	}
	x := float32(0)
	for i, s := range all {
		switch {
		case total >= want && s.figure:
			width[i] = s.want
		case total >= want:
			width[i] = s.want + (total-want)*s.want/textWant(all)
		case total > least:
			width[i] = s.min + (s.want-s.min)*(total-least)/(want-least)
		default:
			width[i] = s.min
		}
		at[i] = x
		x += width[i]
	}
	return at, width
}

// textWant sums what the columns of text want: spare width is theirs.
func textWant(all [columns]spec) float32 {
	var sum float32
	for _, s := range all {
		if !s.figure {
			sum += s.want
		}
	}
	return sum
}

// columnAt returns the column under x.
func columnAt(x, total float32) Column {
	at, width := spans(total)
	for c := range columns {
		if x < at[c]+width[c] {
			return c
		}
	}
	return Note
}
