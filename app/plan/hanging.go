package plan

import (
	"strings"

	"legwright/app/units"
)

// HangTyped returns the plan with every far end of a leg or sight that was typed
// as a bearing or a distance standing on the sheet of its near end, where that was
// picked on one or stands on one itself. It is for a plan from a file that names no
// sheet for such an end: the end is as wrong as that sheet, and would pass without
// its cautions.
func (p *Plan) HangTyped() *Plan {
	hung := map[placeKey]ID{}
	look := func(from, to End) {
		a, b := p.Resolve(from), p.Resolve(to)
		sheet := a.Sheet
		if a.Origin != Picked && !a.Hangs() {
			sheet = hung[keyOf(a)]
		}
		if sheet != "" && a.Code == b.Code && b.typedAsBearing() {
			hung[keyOf(b)] = sheet
		}
	}
	p.walk(func(x parts) bool {
		for i := 1; i < len(x.ends); i++ {
			look(*x.ends[i-1], *x.ends[i])
		}
		return true
	})
	if len(hung) == 0 {
		return p
	}
	return p.mapPositions(func(pos Position) Position {
		if pos.typedAsBearing() {
			pos.Sheet = hung[keyOf(pos)]
		}
		return pos
	})
}

// typedAsBearing reports whether a position that names no sheet was typed as a
// bearing or a distance, such as "057 grid, 850 m", "057 magnetic" or "850 m".
func (p Position) typedAsBearing() bool {
	if p.Origin != Typed || p.Sheet != "" || p.SquareM > 0 {
		return false
	}
	if _, err := units.ParseMetres(p.Text); err == nil {
		return true
	}
	bearing, _, _ := strings.Cut(p.Text, ", ")
	i := strings.LastIndexByte(bearing, ' ')
	if i < 0 {
		return false
	}
	switch bearing[i+1:] {
	case "grid", "mag", "magnetic", "true":
		_, err := units.ParseBearing(bearing[:i], units.Mils6400) // the circle with the largest figures
		return err == nil
	}
	return false
}
