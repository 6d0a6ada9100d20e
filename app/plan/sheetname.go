package plan

import (
	"fmt"
	"strings"
)

// SheetName names a sheet for people: its picture without the folder, the page
// of a document with it, and its number in the plan where two would be called
// alike. It is "" for a sheet that is not in the plan.
func (p *Plan) SheetName(id ID) string {
	number, name, alike := 0, "", 0
	for i, s := range p.Sheets {
		if s.ID == id {
			number, name = i+1, s.name()
		}
	}
	for _, s := range p.Sheets {
		if number > 0 && s.name() == name {
			alike++
		}
	}
	switch {
	case number == 0:
		return ""
	case name == "":
		return fmt.Sprintf("sheet %d", number)
	case alike > 1:
		return fmt.Sprintf("%s (sheet %d)", name, number)
	}
	return name
}

// name is the sheet's name by itself.
func (s Sheet) name() string {
	base := strings.TrimPrefix(s.Picture, EmbeddedPrefix)
	if i := strings.LastIndexAny(base, `/\`); i >= 0 {
		base = base[i+1:]
	}
	if base != "" && s.Page.Number > 0 {
		return fmt.Sprintf("%s, page %d", base, s.Page.Number)
	}
	return base
}
