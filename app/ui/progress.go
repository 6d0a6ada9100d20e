package ui

import (
	"fmt"

	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/mapio/scan"
)

// progressView shows how far an opening has come: in a dialog while there is
// nothing to see yet, and in a strip over the sheet once there is a picture to work
// on.
type progressView struct {
	*ask.Progress
	b       *Bench
	inStrip bool // the strip has replaced the dialog
	closed  bool
}

// newProgressView shows the progress of opening a file. cancel is called by its
// button and by Escape.
func newProgressView(b *Bench, name string, cancel func()) *progressView {
	v := &progressView{Progress: b.dialogs.Progress("Opening "+name, cancel), b: b}
	v.Tell("Reading the header…", -1)
	return v
}

// tell shows how far the opening has come.
func (v *progressView) tell(at jobs.Progress) {
	share, known := at.Share()
	if !known {
		share = -1
	}
	switch {
	case v.closed || !known && at.Stage != scan.StageStart:
	case v.inStrip:
		if v.b.frame.opening.Tell(progressWords(at)) {
			v.b.frame.arrange(v.b.frame.opening)
		}
	default:
		v.Tell(progressWords(at), share)
	}
}

func progressWords(at jobs.Progress) string {
	switch at.Stage {
	case scan.StageStart:
		return "Preparing the PDF reader, for the first PDF only…"
	case scan.StageRead:
		return fmt.Sprintf("Reading: %.0f %% of %.1f MB", 100*float64(at.Done)/float64(at.Total), float64(at.Total)/1e6)
	}
	return fmt.Sprintf("Decoding: row %d of %d", at.Done, at.Total)
}

// toStrip shows the progress in the strip over the sheet from now on: there is a picture
// to look at.
func (v *progressView) toStrip() {
	v.Close()
	v.inStrip = true
}

// close takes the view away for good.
func (v *progressView) close() {
	if v == nil {
		return
	}
	v.closed = true
	v.Close()
	if v.inStrip {
		v.b.frame.opening.Hide()
	}
}
