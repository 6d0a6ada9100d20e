package planes

import (
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

// TestRelease: what was not released keeps its bytes, wherever the released part
// begins and ends; on Linux the rest reads as zeros, and beyond both ends there
// is nothing to release.
func TestRelease(t *testing.T) {
	t.Parallel()
	page := os.Getpagesize()
	n := 6*page + 100
	for _, part := range [][2]int{{0, n}, {1, n}, {page, 3 * page}, {page + 1, 3*page - 1}, {-5, n + 5}, {3 * page, page}, {n, n}, {7, 9}} {
		p := New(n)
		b := p.Bytes()
		if len(b) != n {
			t.Fatalf("%d bytes, want %d", len(b), n)
		}
		for i := range b {
			if b[i] != 0 {
				t.Fatalf("byte %d of a new plane is %d", i, b[i])
			}
			b[i] = 7
		}
		p.Release(part[0], part[1])
		gone := 0
		for i, v := range b {
			if v == 7 {
				continue
			}
			gone++
			if i < part[0] || i >= part[1] {
				t.Fatalf("released %v: byte %d is gone", part, i)
			}
		}
		if most := part[1] - part[0]; runtime.GOOS == "linux" && gone < min(most, n)-2*page {
			t.Errorf("released %v: %d bytes are gone, want all whole pages", part, gone)
		}
		p.Close()
	}
}

// TestClose: closed planes take nothing more and stand being asked again, and a
// plane without bytes is one too.
func TestClose(t *testing.T) {
	t.Parallel()
	for _, n := range []int{0, 1, 1 << 20} {
		p := New(n)
		p.Close()
		p.Close()
		p.Release(0, n)
		if p.Bytes() != nil {
			t.Errorf("%d bytes: still there after Close", n)
		}
	}
}

// TestMemory: planes take memory only where they are touched, and give it back
// with Release and Close. It counts the whole process and so runs alone.
func TestMemory(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("ordinary memory goes back with the collector here")
	}
	const n, some = 256 << 20, 32 << 20
	before := residentBytes(t)
	p := New(n)
	defer p.Close()
	expect := func(what string, want int) {
		t.Helper()
		if got := residentBytes(t) - before; got < want-some/2 || got > want+some/2 {
			t.Errorf("%s: %d MB in memory, want about %d", what, got>>20, want>>20)
		}
	}
	expect("new", 0)
	for i := 0; i < some; i += 512 {
		p.Bytes()[i] = 1
	}
	expect("touched in part", some)
	p.Release(0, some)
	expect("released", 0)
	for i := 0; i < some; i += 512 {
		p.Bytes()[i] = 1
	}
	expect("touched again", some)
	p.Close()
	expect("closed", 0)
}

// residentBytes reads what the process has in memory.
func residentBytes(t *testing.T) int {
	t.Helper()
	raw, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		t.Skip(err)
	}
	pages, err := strconv.Atoi(strings.Fields(string(raw))[1])
	if err != nil {
		t.Fatal(err)
	}
	return pages * os.Getpagesize()
}
