package plan

import (
	"strconv"
	"strings"
)

// NextID returns prefix-n where n is one above the highest number that the
// used IDs carry behind the same prefix.
func NextID(prefix string, used ...ID) ID {
	top := 0
	for _, id := range used {
		rest, ok := strings.CutPrefix(string(id), prefix+"-")
		if n, err := strconv.Atoi(rest); ok && err == nil && n > top && n < 1<<30 {
			top = n
		}
	}
	return ID(prefix + "-" + strconv.Itoa(top+1))
}

// NextMarkID returns an ID that no mark of the plan has.
func (p *Plan) NextMarkID() ID {
	return NextID("mark", ids(p.Marks, func(m Mark) ID { return m.ID })...)
}

// NextLegID returns an ID that no leg of the plan has.
func (p *Plan) NextLegID() ID { return NextID("leg", ids(p.Legs, func(l Leg) ID { return l.ID })...) }

// NextSightID returns an ID that no sight of the plan has.
func (p *Plan) NextSightID() ID {
	return NextID("sight", ids(p.Sights, func(s Sight) ID { return s.ID })...)
}

// NextSheetID returns an ID that no sheet of the plan has, and none that a
// position still remembers: what was picked on a sheet that has gone must not
// come to lie on a new one, and no evidence rest on it.
func (p *Plan) NextSheetID() ID {
	used := ids(p.Sheets, func(s Sheet) ID { return s.ID })
	for _, s := range p.Sheets { // evidence may rest on a sheet that has gone
		for _, e := range s.Evidence {
			used = append(used, ID(e.Sheet))
		}
	}
	of := func(pos Position) { used = append(used, pos.Sheet, pos.LettersOf) }
	for _, m := range p.Marks {
		of(m.Position)
	}
	for _, l := range p.Legs {
		of(l.From.Position)
		of(l.To.Position)
	}
	for _, s := range p.Sights {
		of(s.From.Position)
		of(s.To.Position)
	}
	return NextID("sheet", used...)
}

func ids[T any](list []T, of func(T) ID) []ID {
	out := make([]ID, len(list))
	for i, v := range list {
		out[i] = of(v)
	}
	return out
}
