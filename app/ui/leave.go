package ui

import (
	"log"
	"os"
	"time"
)

// leaveWithin is how long the toolkit may take to end after its window has
// gone.
const leaveWithin = 5 * time.Second

// leave sees to it that the process ends once the window has gone. Once in
// hundreds of times the toolkit stays for good after that with nothing left to
// do, an empty window of its own too; the cause was not found. All that is to
// be kept is on the disk by then: each act is in the journal as soon as it is
// done.
func leave() {
	time.AfterFunc(leaveWithin, func() {
		log.Print("the window has gone and the toolkit does not end: the program ends here")
		os.Exit(0)
	})
}
