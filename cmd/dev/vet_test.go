package main

import (
	"slices"
	"testing"
)

// What is built from C, or tested by something that is, is not vetted for another system;
// C in the standard library does not count.
func TestVetLeavesOutWhatNeedsC(t *testing.T) {
	t.Parallel()
	got, err := withoutC(`{"ImportPath":"far/gl","CgoFiles":["gl.go"],"Module":{}}
{"ImportPath":"net","CgoFiles":["cgo.go"],"Standard":true}
{"ImportPath":"m/window","Deps":["far/gl"],"Module":{"Main":true}}
{"ImportPath":"m/own","CgoFiles":["own.go"],"Module":{"Main":true}}
{"ImportPath":"m/figures","Deps":["net"],"Module":{"Main":true}}
{"ImportPath":"m/figures [m/figures.test]","Deps":["net"],"Module":{"Main":true}}
{"ImportPath":"m/shown","Deps":[],"Module":{"Main":true}}
{"ImportPath":"m/shown_test [m/shown.test]","Deps":["far/gl"],"Module":{"Main":true}}
{"ImportPath":"m/shown.test","Deps":["net"],"Module":{"Main":true}}`)
	if want := []string{"m/figures"}; err != nil || !slices.Equal(got, want) {
		t.Errorf("%v: got %q, want %q", err, got, want)
	}
	if got, err := withoutC(""); err == nil {
		t.Errorf("no package counts as %q", got)
	}
}
