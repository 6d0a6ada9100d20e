package ui

import (
	"io"
	"log"
	"path/filepath"

	"github.com/go-text/typesetting/fontscan"

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

// listFonts lists the fonts of the system while the bench is made. The toolkit needs the
// list for its first text, takes the one that is there already, and waits for one that is
// being made. This measures no text: only the main thread may.
func listFonts() { _, _ = fontscan.SystemFonts(log.New(io.Discard, "", 0), "") }
