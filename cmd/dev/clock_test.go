package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// timing finds what measures time, or takes a number from the clock.
var timing = regexp.MustCompile(`time\.Since\(|\.Unix(Nano|Micro|Milli)?\(\)`)

// TestTestsTimeNothing: a test that fails on a slow machine, or tomorrow, tells
// nothing of the program.
func TestTestsTimeNothing(t *testing.T) {
	t.Parallel()
	if !timing.MatchString("seed := uint64(time.Now().UnixNano())") || !timing.MatchString("if time.Since(began) > limit {") || timing.MatchString("case <-time.After(limit):") {
		t.Fatal("the check does not know what it looks for")
	}
	seen := 0
	err := filepath.WalkDir(moduleRoot(), func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") || filepath.Base(path) == "clock_test.go" {
			return err
		}
		seen++
		code, err := os.ReadFile(path)
		for i, line := range strings.Split(string(code), "\n") {
			if timing.MatchString(line) {
				t.Errorf("%s:%d measures time: count work, or the order of events, instead", path, i+1)
			}
		}
		return err
	})
	if err != nil || seen < 100 {
		t.Errorf("%d files of tests were read, %v", seen, err)
	}
}
