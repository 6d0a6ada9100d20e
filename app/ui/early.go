package ui

import (
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"fyne.io/fyne/v2"

	"legwright/app/plan"
	"legwright/mapio/scan"
)

// openEarly begins to open the picture that the bench will show first, one named on
// the command line or that of the demo, before there is a window: making the window
// takes as long as decoding a scan, on another core. It returns nil if no picture is
// named.
func openEarly(from *source, args []string) *opening {
	path := embeddedScan
	if len(args) == 0 {
		return nil
	}
	if args[0] != DemoArgument {
		abs, err := filepath.Abs(args[0])
		if err != nil || !slices.Contains(pictureEndings(), strings.ToLower(filepath.Ext(abs))) {
			return nil
		}
		path = abs
	}
	return from.open(path, plan.Page{}, scan.DefaultSide, false)
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
