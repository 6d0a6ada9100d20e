package ui

import (
	"log"
	"os"
	"time"
)

// leaveWithin is how long the toolkit may take to end after its window has
// gone.
const leaveWithin = 5 * time.Second

// leave sees to it that the process ends once the window has gone. One run at
// random, of many, was seen to stay for minutes after that with nothing left
// to do; the cause was not found. All that is to be kept is on the disk by
// then: each act is in the journal as soon as it is done.
func leave() {
	time.AfterFunc(leaveWithin, func() {
		log.Print("the window has gone and the toolkit does not end: the program ends here")
		os.Exit(0)
	})
}
