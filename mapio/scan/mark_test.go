package scan

import (
	"bytes"
	"testing"
	"testing/fstest"
	"time"
)

// TestMark changes each thing that a mark covers, one at a time.
func TestMark(t *testing.T) {
	t.Parallel()
	long := bytes.Repeat([]byte("0123456789abcdef"), 20000)
	when := time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC)
	changed := func(at int) []byte {
		c := bytes.Clone(long)
		c[at]++
		return c
	}
	of := func(data []byte, at time.Time) [32]byte {
		m, err := Mark(fstest.MapFS{"a.png": {Data: data, ModTime: at}}, "a.png")
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	first := of(long, when)
	if of(long, when) != first {
		t.Error("the same file has two marks")
	}
	for name, other := range map[string][32]byte{
		"head": of(changed(10), when), "tail": of(changed(len(long)-10), when), "size": of(long[:len(long)-16], when),
		"time": of(long, when.Add(time.Second)), "short": of(long[:100], when),
	} {
		if other == first {
			t.Errorf("%s: another file has the same mark", name)
		}
	}
	if of(changed(len(long)/2), when) != first {
		t.Error("the middle is read; a mark is to be quick")
	}
	if _, err := Mark(fstest.MapFS{}, "a.png"); err == nil {
		t.Error("no error for a file that is not there")
	}
	if _, err := Mark(fstest.MapFS{"d/a.png": {}}, "d"); err == nil {
		t.Error("no error for a folder")
	}
}
