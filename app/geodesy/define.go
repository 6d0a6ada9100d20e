package geodesy

import "strings"

// Define returns the grid that a text defines: a PROJ string, well-known text
// of version 1 (OGC 01-009 or the flavour of .prj files) or 2 (OGC 12-063r5,
// 18-010r7), or an EPSG code. Where the figures are those of a grid of the
// catalogue, that grid is returned. Otherwise the grid is a new one, has no EPSG
// code, and its Code is its definition: compare the codes of two such grids, not
// their pointers. The error is a *BadDefinition or, for a code, an
// *UnknownSystem.
func Define(text string) (*System, error) {
	text = strings.TrimSpace(strings.TrimPrefix(text, "\ufeff"))
	switch {
	case text == "":
		return nil, badDefinition("nothing is given; give a PROJ string, well-known text or an EPSG code")
	case len(text) > maxDefinition:
		return nil, badDefinition("the text is %d bytes long; a definition has %d at most", len(text), maxDefinition)
	}
	if number, ok := bareCode(text); ok {
		return byNumber(number)
	}
	def, err := readDefinition(text)
	if err != nil {
		return nil, err
	}
	if def.onlyCode {
		return byNumber(def.epsg)
	}
	return systemOf(def)
}
