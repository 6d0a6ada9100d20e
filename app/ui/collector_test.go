package ui

import (
	"runtime"
	"testing"
)

func TestRoomForGarbage(t *testing.T) {
	for _, c := range []struct {
		heldMB uint64
		want   int
	}{
		{0, 30},
		{20, 30},
		{90, 30},
		{150, 20},
		{320, 10},
		{384, 10},
		{385, 3},
		{900, 3},
	} {
		if got := percentOf(c.heldMB << 20); got != c.want {
			t.Errorf("%d MB: %d %%, want %d %%", c.heldMB, got, c.want)
		}
	}
	big := make([]byte, 64<<20)
	if held, percent := heapNow(); held < uint64(len(big)) || percent == 0 {
		t.Errorf("the heap should hold %d bytes, less than what is in it, or to be set at %d %%", held, percent)
	}
	runtime.KeepAlive(big)
}
