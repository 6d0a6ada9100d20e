package main

import (
	"math"
	"runtime/metrics"
)

// heapUse is what a stretch of work asked of the heap. The pause is the upper
// edge of the runtime's bucket in which the longest one fell.
type heapUse struct {
	AllocsAStep, BytesAStep float64
	Collections             uint64
	LongestPauseMs          float64
}

// heapState is the runtime's count at one moment.
type heapState struct {
	objects, bytes, cycles uint64
	pauses                 *metrics.Float64Histogram
}

func readHeap() heapState {
	s := []metrics.Sample{
		{Name: "/gc/heap/allocs:objects"},
		{Name: "/gc/heap/allocs:bytes"},
		{Name: "/gc/cycles/total:gc-cycles"},
		{Name: "/sched/pauses/total/gc:seconds"},
	}
	metrics.Read(s)
	h := s[3].Value.Float64Histogram()
	return heapState{
		objects: s[0].Value.Uint64(), bytes: s[1].Value.Uint64(), cycles: s[2].Value.Uint64(),
		pauses: &metrics.Float64Histogram{Counts: append([]uint64(nil), h.Counts...), Buckets: h.Buckets},
	}
}

// since gives what was used from before until h, over a number of steps.
func (h heapState) since(before heapState, steps int) heapUse {
	return heapUse{
		AllocsAStep: float64(h.objects-before.objects) / float64(steps),
		BytesAStep:  float64(h.bytes-before.bytes) / float64(steps),
		Collections: h.cycles - before.cycles, LongestPauseMs: 1000 * longest(h.pauses, before.pauses),
	}
}

// longest is the upper edge, in seconds, of the highest bucket that has filled
// since before; 0 if none has.
func longest(now, before *metrics.Float64Histogram) float64 {
	for i := len(now.Counts) - 1; i >= 0; i-- {
		if now.Counts[i] > before.Counts[i] {
			if edge := now.Buckets[i+1]; !math.IsInf(edge, 1) {
				return edge
			}
			return now.Buckets[i]
		}
	}
	return 0
}
