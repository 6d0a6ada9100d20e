package ui

import (
	"runtime/debug"
	"time"
)

// restAfter is how long the sheet must stand still before memory is given
// back.
const restAfter = 4 * time.Second

// resting gives the memory that moving over a sheet has used and freed back
// to the system, once the person looks instead of moving. The collector alone
// would keep it for minutes. It runs away from the window.
type resting struct{ timer *time.Timer }

// moved takes note of a change of the view.
func (r *resting) moved() {
	if r.timer == nil {
		r.timer = time.AfterFunc(restAfter, debug.FreeOSMemory)
		return
	}
	r.timer.Reset(restAfter)
}

// end keeps a window that is closed from collecting: its memory is garbage with it.
func (r *resting) end() {
	if r.timer != nil {
		r.timer.Stop()
	}
}
