package table

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/units"
)

// ErrNoLegs is returned for a plan without legs.
var ErrNoLegs = errors.New("the plan has no legs: keep a leg first")

// column is a column of the table.
type column struct {
	head string
	cell func(*leg.Reader, leg.Row) string
}

func columns() []column {
	return []column{
		{"name", func(_ *leg.Reader, x leg.Row) string { return literal(x.Name) }},
		{"from", func(_ *leg.Reader, x leg.Row) string { return literal(x.From) }},
		{"to", func(_ *leg.Reader, x leg.Row) string { return literal(x.To) }},
		{"end reference", func(_ *leg.Reader, x leg.Row) string { return literal(x.Reading.ToRef) }},
		{"set", set},
		{"grid", grid},
		{"GMA", func(r *leg.Reader, x leg.Row) string { return magneticOnly(x, x.Reading.Closed(circle(r)).GMA) }},
		{"magnetic", magnetic},
		{"back", func(r *leg.Reader, x leg.Row) string { return x.Reading.BackSetFigure(r.Plan().Party.Compass) }},
		{"distance, m", func(_ *leg.Reader, x leg.Row) string { m, _ := distance(x); return m }},
		{"± m", func(_ *leg.Reader, x leg.Row) string { _, half := distance(x); return half }},
		{"climb, m", func(_ *leg.Reader, x leg.Row) string { return rise(x.Climb) }},
		{"descent, m", func(_ *leg.Reader, x leg.Row) string { return rise(x.Descent) }},
		{"end height, m", func(_ *leg.Reader, x leg.Row) string { return rise(x.End()) }},
		{"minutes", minutes},
		{"clock", func(r *leg.Reader, x leg.Row) string { return x.ClockWords(r.Plan().Date) }},
		{"light", func(_ *leg.Reader, x leg.Row) string { return x.Light.String() }},
		{"tick-off feature", func(_ *leg.Reader, x leg.Row) string { return literal(x.TickOff) }},
		{"catching feature", func(_ *leg.Reader, x leg.Row) string { return literal(x.Catching) }},
		{"note", func(_ *leg.Reader, x leg.Row) string { return literal(x.Note) }},
		{"date", func(r *leg.Reader, _ leg.Row) string { return date(r) }},
		{"cautions (a planning aid: check every bearing against the map)", cautions},
	}
}

// Rows returns the cells of the ledger as they are written, its heads first. Errors: ErrNoLegs,
// and that of the first leg that cannot be computed.
func Rows(r *leg.Reader) ([][]string, error) {
	rows := r.Legs()
	if len(rows) == 0 {
		return nil, ErrNoLegs
	}
	cols := columns()
	head := []string{"stops", "leg"}
	for _, c := range cols {
		head = append(head, c.head)
	}
	out := [][]string{head}
	for i, x := range rows {
		if x.Err != nil {
			return nil, fmt.Errorf("leg %d, %s to %s: %w", i+1, x.From, x.To, x.Err)
		}
		line := []string{caution.Lead(x.Cautions(), caution.All), strconv.Itoa(i + 1)}
		for _, c := range cols {
			line = append(line, harmless(c.cell(r, x)))
		}
		out = append(out, line)
	}
	return out, nil
}

// CSV writes the ledger as comma-separated values. Errors: those of Rows, and of the writer.
func CSV(w io.Writer, r *leg.Reader) error {
	rows, err := Rows(r)
	if err != nil {
		return err
	}
	if _, err := io.WriteString(w, "\ufeff"); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true // section 2 of RFC 4180
	return out.WriteAll(rows)
}

// Tabbed returns the ledger as lines of cells with tabs between them, as a spreadsheet pastes
// them. Its errors are those of Rows.
func Tabbed(r *leg.Reader) (string, error) {
	rows, err := Rows(r)
	if err != nil {
		return "", err
	}
	var text strings.Builder
	for _, line := range rows {
		text.WriteString(strings.Join(line, "\t") + "\n")
	}
	return text.String(), nil
}

// computed is where a spreadsheet would begin to compute: at the beginning of a cell, and
// behind what it may take for the end of one. Some take the wide letters of Asian keyboards too.
var computed = regexp.MustCompile(`(^|[;|])(\s*[=+\-@＝＋－＠])`)

// plainNumber is a number, which a spreadsheet takes as it is.
var plainNumber = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// harmless writes a cell on one line and so that nothing in it is computed.
func harmless(cell string) string {
	cell = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, cell)
	if plainNumber.MatchString(cell) {
		return cell
	}
	return computed.ReplaceAllString(cell, "$1'$2")
}

// changed is text that a spreadsheet would take for a date, a time, a fraction or another figure
// and so show otherwise: 1/2 as 2 January, 1.10 as 1.1, 1e3 as 1000. Months are English ones.
var changed = regexp.MustCompile(`(?i)^(` + noWord + `\p{N}` + noWord + `(e[+-]?\d+|[ap]m?|` + months + noWord + `)?|` + months + noWord + `\p{N}` + noWord + `|true|false)$`)

const (
	noWord = `[^\p{L}=＝;|]*`
	months = `(jan(uary)?|feb(ruary)?|mar(ch)?|apr(il)?|may|june?|july?|aug(ust)?|sept?(ember)?|oct(ober)?|nov(ember)?|dec(ember)?)`
)

// whole is a number of which a spreadsheet keeps every digit.
var whole = regexp.MustCompile(`^(0|-?[1-9][0-9]{0,14})$`)

// literal writes words that a person typed so that a spreadsheet keeps them as they are.
func literal(words string) string {
	if changed.MatchString(words) && !whole.MatchString(words) {
		return "'" + words
	}
	return words
}

func circle(r *leg.Reader) units.Circle { return r.Plan().Party.Compass.Circle }

func set(r *leg.Reader, x leg.Row) string {
	if x.Reading.SetFigure(circle(r)) == "" {
		return "none"
	}
	return x.Reading.SetFigure(circle(r)) + " " + x.Reading.SetKind.North(r.Plan().Party.Compass) + " " + circle(r).FullHalf(x.Reading.MagneticSigma)
}

func grid(r *leg.Reader, x leg.Row) string {
	return x.Reading.Closed(circle(r)).Grid + " grid " + circle(r).FullHalf(x.Reading.BearingSigma)
}

func magnetic(r *leg.Reader, x leg.Row) string {
	return magneticOnly(x, x.Reading.Closed(circle(r)).Magnetic+" mag "+circle(r).FullHalf(x.Reading.MagneticSigma))
}

func magneticOnly(x leg.Row, text string) string {
	if !x.Reading.HasMagnetic {
		return "none"
	}
	return text
}

// wholeMetreSigmaM makes "± 1" of a distance between coordinates that are typed as exact.
const wholeMetreSigmaM = 0.5

// distance is the ground distance and its ±, as numbers of metres.
func distance(x leg.Row) (m, half string) {
	sigma := x.Reading.DistanceSigmaM
	if sigma <= 0 {
		sigma = wholeMetreSigmaM
	}
	text := strings.ReplaceAll(units.Metres(x.Reading.GroundM, sigma), "\u2009", "")
	m, half, _ = strings.Cut(text, " m ± ")
	return m, half
}

func rise(r leg.Rise) string {
	if !r.Known() {
		return "?"
	}
	return fmt.Sprintf("%.0f", r.M)
}

// minutes are the walking time without rests, see leg.TimeWords.
func minutes(_ *leg.Reader, x leg.Row) string {
	if x.Time <= 0 {
		return "none"
	}
	return leg.TimeWords(x.Time, x.ClimbKnown())
}

func date(r *leg.Reader) string {
	if r.Plan().Date.IsZero() {
		return "no date set"
	}
	return r.Plan().Date.Words()
}

// cautions are the sentences of all that speaks against a leg.
func cautions(r *leg.Reader, x leg.Row) string {
	var list []string
	for _, c := range caution.GravestFirst(x.Cautions()) {
		list = append(list, c.Text())
	}
	if words := leg.CompassWords(r.Plan().Party.Compass); words != "" {
		list = append(list, words+".")
	}
	return strings.Join(list, " ")
}
