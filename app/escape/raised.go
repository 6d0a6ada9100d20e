package escape

import (
	"strings"

	"legwright/app/caution"
)

// Raised gathers the cautions of all marks and escapes, each once with the escapes that raise
// it: "E03-1", "all escapes".
func (j Judged) Raised() []caution.Raised {
	var g caution.Gathering
	for _, s := range j.Stages {
		g.Take("", s.Cautions...)
	}
	for _, e := range j.Escapes {
		g.Take(e.Name, e.Cautions...)
	}
	return g.Raised(func(names []string) string {
		if len(names) == len(j.Escapes) && len(names) > 1 {
			return "all escapes"
		}
		return strings.Join(names, ", ")
	})
}
