package memory

import (
	"runtime"
	"testing"
)

func TestParse(t *testing.T) {
	t.Parallel()
	const text = "Name:\tbench\nVmHWM:\t   20000 kB\nVmRSS:\t   10000 kB\nVmBad:\t x kB\n"
	for _, c := range []struct {
		name string
		want float64 // MB
	}{{"VmHWM:", 20.48}, {"VmRSS:", 10.24}, {"VmBad:", 0}, {"VmNone:", 0}} {
		if got := parse(text, c.name); got != c.want {
			t.Errorf("%s is %v MB, want %v", c.name, got, c.want)
		}
	}
}

// TestGrows takes 64 MB, touches them and looks whether they are seen.
func TestGrows(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the figures of memory are read on Linux only")
	}
	before := NowMB()
	taken := make([]byte, 64e6)
	for i := 0; i < len(taken); i += 4096 {
		taken[i] = 1
	}
	if got := NowMB() - before; got < 50 || got > 90 {
		t.Errorf("64 MB taken show as %.1f MB", got)
	}
	if PeakMB() < before+50 {
		t.Errorf("the peak is %.1f MB after 64 MB on top of %.1f", PeakMB(), before)
	}
	runtime.KeepAlive(taken)
}
