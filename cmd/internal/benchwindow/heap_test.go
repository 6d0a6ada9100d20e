package main

import (
	"runtime"
	"runtime/metrics"
	"testing"
)

func TestLongest(t *testing.T) {
	t.Parallel()
	edges := []float64{0, 1e-3, 2e-3, 4e-3}
	hist := func(n ...uint64) *metrics.Float64Histogram {
		return &metrics.Float64Histogram{Counts: n, Buckets: edges}
	}
	for _, c := range []struct {
		name        string
		now, before *metrics.Float64Histogram
		want        float64 // seconds
	}{
		{"none", hist(3, 1, 2), hist(3, 1, 2), 0},
		{"short", hist(4, 1, 2), hist(3, 1, 2), 1e-3},
		{"the longest counts", hist(9, 2, 2), hist(3, 1, 2), 2e-3},
		{"last bucket", hist(3, 1, 3), hist(3, 1, 2), 4e-3},
	} {
		if got := longest(c.now, c.before); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// TestHeapUseIsSeen takes a thousand objects of a kilobyte and collects.
func TestHeapUseIsSeen(t *testing.T) {
	before := readHeap()
	var kept [][]byte
	for range 1000 {
		kept = append(kept, make([]byte, 1024))
	}
	runtime.GC()
	got := readHeap().since(before, 1000)
	if got.AllocsAStep < 0.9 || got.BytesAStep < 1000 || got.Collections < 1 || got.LongestPauseMs <= 0 {
		t.Errorf("a thousand kilobytes show as %+v", got)
	}
	runtime.KeepAlive(kept)
}
