package ui

import (
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/plan"
	"legwright/mapio/scan"
)

// openEarly begins to open the picture that the bench will show first, the one
// on the command line or that of the demo, before there is a window: making
// the window takes as long as decoding a scan, on another core. It returns nil
// where no picture is named.
func openEarly(from *source, args []string) *opening {
	path := embeddedScan
	if len(args) > 0 {
		abs, err := filepath.Abs(args[0])
		if err != nil || !slices.Contains(pictureEndings(), strings.ToLower(filepath.Ext(abs))) {
			return nil
		}
		path = abs
	}
	return from.open(path, plan.Page{}, scan.DefaultSide, false)
}
