// Command sheetsteps takes one step of opening a big sheet, without a window
// and as the first thing its process does, and prints what it took as one
// line of JSON. The speed figures start it anew for each measurement: the
// first call in a fresh process is what a person waits for.
//
//	sheetsteps STEP FILE [STORE]
//
// The steps:
//
//	eighth  the JPEG decoder alone, at an eighth of the size
//	bare    the decoder alone, at full size
//	first   the bench's way to every tile of the fitted view
//	levels  the bench's way to every level in the store
//	reopen  the bench's way to the fitted view of a sheet in the store
package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"time"

	"legwright/cmd/internal/memory"
)

// result is what a step took.
type result struct {
	Seconds float64 // until the step's end
	// ReadySeconds is when every level could first be cut; SlowestMs what the
	// slowest of many tiles then took, and EndSlowestMs once the step was done.
	ReadySeconds, SlowestMs, EndSlowestMs float64
	PeakMB                                float64 // most resident memory until then; 0 unknown
}

func main() {
	began := time.Now()
	if len(os.Args) < 3 {
		fmt.Fprintln(os.Stderr, "usage: sheetsteps eighth|bare|first|levels|reopen FILE [STORE]")
		os.Exit(2)
	}
	r, err := step(os.Args[1], os.Args[2], began)
	if err == nil {
		err = json.NewEncoder(os.Stdout).Encode(r)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "sheetsteps:", err)
		os.Exit(1)
	}
	// The end of the process takes the rest of the work with it, as it takes
	// that of a peer.
	os.Exit(0)
}

func step(name, file string, began time.Time) (result, error) {
	ctx := context.Background()
	store := ""
	if len(os.Args) > 3 {
		store = os.Args[3]
	}
	var r result
	var err error
	switch name {
	case "eighth":
		err = decodeEighth(file)
	case "bare":
		err = decodeBare(file)
	case "first":
		err = first(ctx, file, store)
	case "levels":
		return levels(ctx, file, store, began)
	case "reopen":
		err = reopen(file, store)
	default:
		err = fmt.Errorf("there is no step %q", name)
	}
	r.Seconds, r.PeakMB = time.Since(began).Seconds(), memory.PeakMB()
	return r, err
}
