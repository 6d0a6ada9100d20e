package ui

import (
	"path/filepath"

	"legwright/app/ui/opening"
)

// readAhead begins to read the picture that the bench will show first, one named on the
// command line or that of the demo, before there is a window.
func readAhead(from *opening.Source, args []string) {
	switch {
	case len(args) == 0:
	case args[0] == DemoArgument:
		from.ReadAhead(opening.DemoPicture)
	case opening.IsPicture(args[0]):
		if path, err := filepath.Abs(args[0]); err == nil {
			from.ReadAhead(path)
		}
	}
}
