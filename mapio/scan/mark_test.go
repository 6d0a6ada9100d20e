package scan

import (
	"bytes"
	"errors"
	"io/fs"
	"testing"
	"testing/fstest"
	"time"
)

// TestMark: the mark follows size, time and both ends, with and without
// reading at offsets, and not the middle.
func TestMark(t *testing.T) {
	t.Parallel()
	data := make([]byte, 300_000)
	for i := range data {
		data[i] = byte(i * 7)
	}
	when := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	mark := func(data []byte, when time.Time) [32]byte {
		t.Helper()
		fsys := fstest.MapFS{"a.jpg": {Data: data, ModTime: when}}
		m, err := Mark(fsys, "a.jpg")
		if err != nil {
			t.Fatal(err)
		}
		if again, err := Mark(onlyRead{fsys}, "a.jpg"); err != nil || again != m {
			t.Errorf("read in order: %x, %v, want %x", again, err, m)
		}
		return m
	}
	flipped := func(at int) []byte {
		d := bytes.Clone(data)
		d[at] ^= 1
		return d
	}
	first := mark(data, when)
	for _, c := range []struct {
		name string
		mark [32]byte
		same bool
	}{
		{"again", mark(data, when), true},
		{"later", mark(data, when.Add(time.Millisecond)), false},
		{"first byte", mark(flipped(0), when), false},
		{"last byte", mark(flipped(len(data)-1), when), false},
		{"64 KB from the end", mark(flipped(len(data)-markSpan), when), false},
		{"middle", mark(flipped(len(data)/2), when), true},
		{"longer", mark(append(bytes.Clone(data), 0), when), false},
	} {
		if same := c.mark == first; same != c.same {
			t.Errorf("%s: same mark %v, want %v", c.name, same, c.same)
		}
	}
	for _, n := range []int{0, 1, markSpan, markSpan + 1, 2 * markSpan} {
		whole := mark(data[:n], when)
		if n > 0 {
			if d := flipped(n - 1); mark(d[:n], when) == whole {
				t.Errorf("%d bytes: the last is not in the mark", n)
			}
		}
	}
	if _, err := Mark(fstest.MapFS{}, "gone"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing file: %v, want fs.ErrNotExist", err)
	}
	if _, err := Mark(fstest.MapFS{"d/x": {}}, "d"); !errors.Is(err, ErrNotPicture) {
		t.Errorf("folder: %v, want ErrNotPicture", err)
	}
}
