package ui

import (
	"math"
	"runtime/debug"
	"runtime/metrics"
	"time"
)

// gcPercent is how much the heap may grow between two collections at least.
// Nearly all of the memory is tiles and planes, which hold no pointers and
// cost a collection nothing; with the usual 100 % the garbage would take as
// much again as all of them.
const gcPercent = 10

// garbageRoom is how many bytes of garbage there may be in any case. A
// collection runs for 6 to 15 milliseconds beside the frames of a drag, and on
// the demo's sheet ten percent were used up every hundred frames. mostPercent keeps a heap
// that is about to grow from taking much more than that.
const (
	garbageRoom = 40 << 20
	mostPercent = 30
)

// decodeHeap is what the heap holds only while a large sheet is being decoded,
// as tiles and all else keep below it; openPercent is the percentage then: ten
// percent of a sheet of 300 megapixels in full colour would be 120 MB.
const (
	decodeHeap  = 384 << 20
	openPercent = 3
)

// keepMemoryLow sets the collector for a program whose heap is pictures.
func keepMemoryLow() {
	debug.SetGCPercent(gcPercent)
	debug.SetMemoryLimit(math.MaxInt64)
}

// startRoom and startTime are for the start, in bytes and in time: while fonts
// and widgets are made and the heap is small, the low percentage means dozens
// of collections and a quarter of the time to the first sharp sheet. Within the
// room there is none.
const (
	startRoom = 256 << 20
	startTime = 2 * time.Second
)

// startQuickly sets the collector for the start, and for what follows once
// that is over. The opening of a person's own picture ends it sooner.
func startQuickly() {
	debug.SetMemoryLimit(startRoom)
	debug.SetGCPercent(-1)
	time.AfterFunc(startTime, func() {
		keepMemoryLow()
		go keepRoom()
	})
}

// roomEvery is how often the collector is set for the heap as it has become.
const roomEvery = time.Second / 2

// keepRoom gives the garbage its room for as long as the program runs.
func keepRoom() {
	for range time.Tick(roomEvery) {
		held, set := heapNow()
		if now := percentOf(held); uint64(now) != set {
			debug.SetGCPercent(now)
		}
	}
}

// percentOf is how much a heap that holds so many bytes may grow between two
// collections, in percent. It goes in steps of ten: each change stops the
// program for a moment.
func percentOf(held uint64) int {
	if held > decodeHeap {
		return openPercent
	}
	return min(max(gcPercent, int(garbageRoom*100/max(held, 1))/10*10), mostPercent)
}

// heapNow is how many bytes the heap holds, garbage included, and at what
// percentage the collector is set. What the last collection left would say
// nothing of a sheet that is being decoded.
func heapNow() (held, percent uint64) {
	s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/gc/gogc:percent"}}
	metrics.Read(s)
	return s[0].Value.Uint64(), s[1].Value.Uint64()
}
