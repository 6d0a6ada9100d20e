package plan

import "legwright/app/geodesy"

// SheetsUsed returns the IDs of the sheets that a position of a thing was picked on or
// derived from.
func (p *Plan) SheetsUsed() map[ID]bool {
	used := map[ID]bool{}
	for pos := range p.positions {
		if pos.Origin == Picked || pos.DerivedFromSheet() {
			used[pos.Sheet] = true
		}
	}
	return used
}

// SheetsGivingLetters returns the IDs of the sheets that supplied the letters of a
// reference that was typed without.
func (p *Plan) SheetsGivingLetters() map[ID]bool {
	gives := map[ID]bool{}
	for pos := range p.positions {
		gives[pos.LettersFrom] = true
	}
	delete(gives, "")
	return gives
}

// Grids returns the grids of the plan's sheets and of the positions of its things,
// each once, the sheets' first.
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
