package geodesy

import "math"

// singleNumber reads one row of digits: a reference without letters and
// without a space, if it is one.
func singleNumber(f string, ctx RefContext) (Ref, *RefError) {
	n := len(f)
	if allDigits(f) && n%2 == 0 && n <= 10 && ctx.System != nil {
		p := refParts{east: f[:n/2], north: f[n/2:]}
		if ctx.System.lettered() && ctx.Near != nil {
			return runOfDigits(p, ctx)
		}
		if r, err, settled := shortRef(p, ctx); settled {
			return r, err
		}
	}
	err := refusal("there is only one number; type %s, with a space between", wantedPair(ctx.System))
	if allDigits(f) && n >= 12 && n <= 14 {
		err.offering(f[:n/2] + " " + f[n/2:])
	}
	return Ref{}, err
}

// runOfDigits reads digits without letters and without a space.
func runOfDigits(p refParts, ctx RefContext) (Ref, *RefError) {
	r, err := nearestRef(p, ctx)
	if err == nil {
		err = r.orPlain(p, ctx)
	}
	if err != nil {
		return Ref{}, err
	}
	return r, nil
}

// orPlain refuses a reference without letters whose digits, split somewhere, are also
// easting and northing near the sheet.
func (r Ref) orPlain(p refParts, ctx RefContext) *RefError {
	half := plainPair{e: p.east, n: p.north}
	for _, q := range ctx.plainlyNear(append(half.otherSplits(), half), true) {
		if g, ok := q.grid(ctx.System); ok && g != r.Grid {
			return r.orElse("without letters this could also be easting and northing", q.offer()...)
		}
	}
	return nil
}

// shortRef reads two numbers of equally many digits, 1 to 5. It returns false if they are
// easting and northing after all.
func shortRef(p refParts, ctx RefContext) (Ref, *RefError, bool) {
	s, plain := ctx.System, plainPair{e: p.east, n: p.north}
	five := len(p.east) == 5
	g, _ := plain.grid(s)
	switch {
	case s.newZealand():
		return Ref{}, refuseNewZealand(s), true
	case !s.lettered(), five && ctx.Near == nil:
		return Ref{}, nil, false
	case ctx.Near == nil:
		return Ref{}, refusal("the letters are missing; type them in front, as in %s", exampleRef(s)), true
	}
	r, err := nearestRef(p, ctx)
	if five && ctx.near(g, nearM) && (err != nil || r.Grid == g) {
		return Ref{}, nil, false
	}
	if err == nil {
		err = r.orPlain(p, ctx)
	}
	km := Grid{E: g.E * 1000, N: g.N * 1000}
	if offers := plain.asKilometres(s); err == nil && len(offers) > 0 && ctx.near(km, sheetM) {
		err = r.orElse("without letters this could be a reference or kilometres", offers...)
	}
	return r, err, true
}

// orElse refuses a reference without letters that could mean something else,
// and offers it with its letters as well.
func (r Ref) orElse(reason string, offers ...string) *RefError {
	err := refusal("%s", reason)
	if full, fail := r.System.FormatRef(r.Grid, FiguresOf(r.SquareM)); fail == nil {
		err.offering(full)
	}
	return err.offering(offers...)
}

// nearestRef supplies the 100 km square that brings the reference nearest to
// the sheet's ground.
func nearestRef(p refParts, ctx RefContext) (Ref, *RefError) {
	s, near := ctx.System, *ctx.Near
	if !near.IsFinite() {
		return Ref{}, refusal("the letters are missing; type them in front, as in %s", exampleRef(s))
	}
	off, side := p.offset()
	corner := Grid{
		E: nearestSquare(near.E - off.E - side/2),
		N: nearestSquare(near.N - off.N - side/2),
	}
	kind := RefLetters
	if s.zone != 0 || s.epsg == epsgUPSNorth || s.epsg == epsgUPSSouth {
		kind = RefMGRS
	}
	r := p.at(s, corner, kind, false)
	if _, _, err := s.refs.square(s, r.Grid); err != nil {
		return Ref{}, refusal("this sheet is outside the lettered squares of %s: type the easting and northing in full", s.withArticle())
	}
	return r, nil
}

func nearestSquare(m float64) float64 { return math.Round(m/squareM) * squareM }

// nearestCycle returns n moved by multiples of 2000 km to be nearest to near.
func nearestCycle(n, near float64) float64 {
	const cycle = 20 * squareM
	return n + math.Round((near-n)/cycle)*cycle
}

func distance(a, b Grid) float64 { return math.Hypot(a.E-b.E, a.N-b.N) }
