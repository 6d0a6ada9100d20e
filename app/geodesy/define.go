package geodesy

import (
	"strings"

	"legwright/app/geodesy/crs"
)

// Define returns the grid that a text defines: a PROJ string, well-known text
// of version 1 (OGC 01-009 or the flavour of .prj files) or 2 (OGC 12-063r5,
// 18-010r7), or an EPSG code. Where the parameters are those of a grid of the
// catalogue, that grid is returned. Otherwise the grid is a new one, has no EPSG
// code, and its Code is its definition: compare the codes of two such grids, not
// their pointers. The error is a *BadDefinition or, for a code, an
// *UnknownSystem.
func Define(text string) (*System, error) {
	text = strings.TrimSpace(strings.TrimPrefix(text, "\ufeff"))
	switch {
	case text == "":
		return nil, crs.Bad("the definition is empty: give a PROJ string, well-known text or an EPSG code")
	case len(text) > crs.MaxDefinition:
		return nil, crs.Bad("the text is too long (%d bytes): a definition may have at most %d", len(text), crs.MaxDefinition)
	}
	if number, ok := crs.BareCode(text); ok {
		return byNumber(number)
	}
	def, err := crs.Read(text)
	if err != nil {
		return nil, err
	}
	if def.OnlyCode {
		return byNumber(def.EPSG)
	}
	return systemOf(def)
}
