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

// NextSheetID returns an ID that no sheet of the plan has, and none that a
// position still remembers: what was picked on a sheet that has gone must not
// come to lie on a new one, and no evidence rest on it.
func (p *Plan) NextSheetID() ID {
	var used []ID
	for _, s := range p.Sheets { // evidence may rest on a sheet that has gone
		used = append(used, s.ID)
		for _, e := range s.Evidence {
			used = append(used, ID(e.Sheet))
		}
	}
	p.walk(func(x parts) bool {
		for _, pos := range x.positions {
			used = append(used, pos.Sheet, pos.LettersFrom)
		}
		for _, e := range x.ends {
			used = append(used, e.Position.Sheet, e.Position.LettersFrom)
		}
		return true
	})
	return NextID("sheet", used...)
}
