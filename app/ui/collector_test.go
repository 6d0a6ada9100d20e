package ui

import (
	"runtime"
	"testing"
)

func TestRoomForGarbage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		liveMB uint64
		want   int
	}{
		{0, 10},
		{20, 100},
		{90, 30},
		{150, 20},
		{320, 10},
		{900, 10},
	} {
		if got := percentOf(c.liveMB << 20); got != c.want {
			t.Errorf("%d MB: %d %%, want %d %%", c.liveMB, got, c.want)
		}
	}
	runtime.GC()
	if live, percent := heapNow(); live == 0 || percent == 0 {
		t.Errorf("after a collection the heap is said to hold %d bytes at %d %%", live, percent)
	}
}
