package ui

import (
	"fmt"

	"legwright/app/ui/ask"
	"legwright/mapio/scan"
)

// progressView shows how far an opening has come: in a dialog while there is
// nothing to see yet, and in a strip over the sheet once there is a picture to work
// on.
type progressView struct {
	*ask.Progress
	b       *Bench
	settled bool // the strip has replaced the dialog
	closed  bool
}

// newProgressView shows the progress of opening a file. cancel is called by its
// button and by Escape.
func newProgressView(b *Bench, name string, cancel func()) *progressView {
	v := &progressView{Progress: b.dialogs.Progress("Opening "+name, cancel), b: b}
	v.Tell("Reading the header…", -1)
	return v
}

// step is how far some work has come.
type step struct {
	stage       string
	done, total int64
}

// tell shows how far the opening has come.
func (v *progressView) tell(at step) {
	switch {
	case v.closed || at.total <= 0:
	case v.settled:
		if v.b.opening.Tell(progressWords(at)) {
			v.b.root.Refresh()
		}
	default:
		v.Tell(progressWords(at), float64(at.done)/float64(at.total))
	}
}

func progressWords(at step) string {
	if at.stage == scan.StageStart {
		return "Starting what draws pages; the first time this takes some seconds…"
	}
	if at.stage == scan.StageRead {
		return fmt.Sprintf("Reading: %.1f of %.1f MB", float64(at.done)/1e6, float64(at.total)/1e6)
	}
	return fmt.Sprintf("Decoding: row %d of %d", at.done, at.total)
}

// settle closes the dialog: there is a picture to work on.
func (v *progressView) settle() {
	v.Close()
	v.settled = true
}

// close takes the view away for good.
func (v *progressView) close() {
	if v == nil {
		return
	}
	v.closed = true
	v.Close()
	if v.settled {
		v.b.opening.Hide()
	}
}
