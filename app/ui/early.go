package ui

import (
	"path/filepath"
	"sync"

	"legwright/app/ui/opening"

	"fyne.io/fyne/v2"
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

// readFonts reads the fonts of all styles of text that the window has, side by
// side: one after the other they took more than half of the time in which the
// bench is made. That begins after it.
func readFonts() {
	var all sync.WaitGroup
	for _, style := range []fyne.TextStyle{{Bold: true}, {Monospace: true}, {}} {
		all.Go(func() { fyne.MeasureText("Hg", 12, style) })
	}
	all.Wait()
}
