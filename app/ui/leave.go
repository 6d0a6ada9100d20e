package ui

import (
	"log"
	"os"
	"time"
)

// leaveWithin is how long the toolkit may take to end after its window has
// gone.
const leaveWithin = 5 * time.Second

// leave sees to it that the process ends once the window has gone. A few
// times, of hundreds, the toolkit stayed after that with nothing left to do,
// once with an empty window that is none of ours; the cause was not found. All that is to
// be kept is on the disk by then: each act is in the journal as soon as it is
// done.
func leave() {
	time.AfterFunc(leaveWithin, func() {
		log.Print("the window has gone and the toolkit does not end: the program ends here")
		os.Exit(0)
	})
}
