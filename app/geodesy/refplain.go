package geodesy

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// plainPair are easting and northing as they were typed, with decimal points.
type plainPair struct {
	e, n     string
	labelled bool // E and N stand beside the numbers
	parted   bool // labels or a comma say where the easting ends, not only a space
}

// plainLabels takes the letters off "E 651409 N 313177" and "651409E 313177N".
// Small numbers with such letters are latitudes and longitudes, and are read before
// this. "EN" in front is no pair of labels but a square of MGRS.
func plainLabels(body string) (string, bool) {
	e, n, last := strings.IndexByte(body, 'E'), strings.IndexByte(body, 'N'), len(body)-1
	before := e == 0 && n > 1 && n < last
	behind := e > 0 && n == last
	if !before && !behind {
		return "", false
	}
	rest := strings.Replace(strings.Replace(body, "E", " ", 1), "N", " ", 1)
	rest = strings.ReplaceAll(rest, " ,", ",")
	if strings.IndexFunc(rest, isLetter) >= 0 || len(strings.Fields(rest)) != 2 {
		return "", false
	}
	return strings.TrimSpace(rest), true
}

// plainRefOf reads digits without letters of a grid.
func plainRefOf(body string, labelled bool, ctx RefContext) (Ref, *RefError) {
	fields, comma, err := plainFields(body, ctx)
	if err != nil {
		return Ref{}, err
	}
	if len(fields) == 1 {
		return singleNumber(fields[0], ctx)
	}
	p := plainPair{e: fields[0], n: fields[1], labelled: labelled, parted: labelled || comma}
	if p.short() && ctx.System != nil {
		if r, err, settled := shortRef(refParts{east: p.e, north: p.n}, ctx); settled {
			return r, err
		}
	}
	return p.read(ctx)
}

// short reports whether the digits could be a reference without its letters.
func (p plainPair) short() bool {
	return !p.labelled && allDigits(p.e) && allDigits(p.n) && len(p.e) == len(p.n) && len(p.e) <= 5
}

// plainFields splits digits into one or two numbers. One comma separates two numbers; a
// comma within each of two numbers is a decimal comma, unless it could separate thousands.
// comma says that a comma separates them.
func plainFields(body string, ctx RefContext) (fields []string, comma bool, err *RefError) {
	words := strings.Fields(body)
	for _, f := range words {
		if strings.Trim(f, "+-.,0123456789") != "" {
			return nil, false, refusal("%q is not understood; type %s", f, wantedRef(ctx.System))
		}
	}
	if len(words) == 2 && strings.Contains(words[0], ",") && strings.Contains(words[1], ",") && !strings.HasSuffix(words[0], ",") {
		fields, err = withinCommas(words, ctx)
		return fields, false, err
	}
	fields = strings.FieldsFunc(body, func(r rune) bool { return r == ' ' || r == ',' })
	switch commas := strings.Count(body, ","); {
	case len(fields) == 0:
		return nil, false, refusal("there are no digits; type %s", wantedPair(ctx.System))
	case len(fields) > 2:
		return nil, false, refusal("there are %d numbers; type only two: %s, with a point for decimals", len(fields), wantedPair(ctx.System))
	case commas > 1:
		return nil, false, refusal("there are %d commas; type %s, with a point for decimals", commas, wantedPair(ctx.System))
	default:
		return fields, commas == 1, nil
	}
}

// withinCommas reads two numbers with commas inside.
func withinCommas(words []string, ctx RefContext) ([]string, *RefError) {
	var thousands, points []string
	for _, w := range words {
		if grouped(w) {
			thousands = append(thousands, strings.ReplaceAll(w, ",", ""))
		}
		if p := strings.Replace(w, ",", ".", 1); isNumber(p) {
			points = append(points, p)
		}
	}
	if len(points) == 2 && len(thousands) == 0 {
		return points, nil
	}
	err := refusal("the commas could separate thousands or decimals; type the numbers without commas, with a point for decimals")
	for _, pair := range [][]string{thousands, points} {
		if len(pair) == 2 && ctx.onGrid(pair[0], pair[1]) {
			err.offering(plainPair{e: pair[0], n: pair[1]}.offer()...)
		}
	}
	return nil, err
}

// grouped reports whether commas could separate a number's thousands: three digits after
// each, and one to three in front.
func grouped(w string) bool {
	groups := strings.Split(strings.TrimLeft(w, "+-"), ",")
	for i, g := range groups {
		if !allDigits(g) || len(g) > 3 || i > 0 && len(g) != 3 {
			return false
		}
	}
	return len(groups) > 1
}

// isNumber reports whether a text is a number with digits on both sides of
// its point, if it has one, and perhaps a sign.
func isNumber(f string) bool {
	if f != "" && (f[0] == '+' || f[0] == '-') {
		f = f[1:]
	}
	whole, frac, point := strings.Cut(f, ".")
	return allDigits(whole) && (!point || allDigits(frac))
}

func decimals(f string) int {
	_, frac, _ := strings.Cut(f, ".")
	return len(frac)
}

// wholeDigits counts the digits before the point.
func wholeDigits(f string) int {
	whole, _, _ := strings.Cut(strings.TrimLeft(f, "+-"), ".")
	return len(whole)
}

func plainNumber(text string) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !isNumber(text) || math.Abs(v) >= 1e9 {
		return 0, strconv.ErrRange
	}
	return v, nil
}

// otherSplits returns where else the space between two numbers could have been
// meant: wherever it leaves two numbers of the same precision. If both numbers are whole
// hundreds, as read at printed lines, and no other split leaves them so, the space is
// right.
func (p plainPair) otherSplits() []plainPair {
	if strings.ContainsAny(p.n, "+-") {
		return nil
	}
	run := p.e + p.n
	var out []plainPair
	for i := 1; i < len(run); i++ {
		q := plainPair{e: run[:i], n: run[i:]}
		sound := isNumber(q.e) && isNumber(q.n) && decimals(q.e) == decimals(q.n) && !q.padded()
		if i != len(p.e) && sound && (q.hundreds() || !p.hundreds()) {
			out = append(out, q)
		}
	}
	return out
}

func (p plainPair) hundreds() bool {
	return strings.HasSuffix(p.e, "00") && strings.HasSuffix(p.n, "00") && !strings.Contains(p.e+p.n, ".")
}

// padded reports whether one number begins with a zero that fills no gap: the
// other has not as many digits before the point.
func (p plainPair) padded() bool {
	zero := func(f string) bool {
		f = strings.TrimLeft(f, "+-")
		return len(f) > 1 && f[0] == '0' && f[1] != '.'
	}
	return (zero(p.e) || zero(p.n)) && wholeDigits(p.e) != wholeDigits(p.n)
}

// offer writes the pair so that it has only one reading. Numbers so small that
// the letters would make them longitude and latitude are not offered.
func (p plainPair) offer() []string {
	e, _ := plainNumber(p.e)
	n, _ := plainNumber(p.n)
	if math.Abs(e) <= 180 && math.Abs(n) <= 180 {
		return nil
	}
	return []string{"E " + p.e + " N " + p.n}
}

// plainlyNear keeps the pairs that lie in the grid's area, and near the ground
// of the sheet where that is known and near is set.
func (ctx RefContext) plainlyNear(pairs []plainPair, near bool) []plainPair {
	return slices.DeleteFunc(pairs, func(p plainPair) bool {
		g, ok := p.grid(ctx.System)
		return !ok || !ctx.System.within(g, typedMarginDeg) || near && !ctx.near(g, nearM)
	})
}

// grid returns the pair as coordinates in metres.
func (p plainPair) grid(s *System) (Grid, bool) {
	e, errE := plainNumber(p.e)
	n, errN := plainNumber(p.n)
	if errE != nil || errN != nil {
		return Grid{}, false
	}
	return s.FromUnits(e, n), true
}
