package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"legwright/app/geodesy"
	"legwright/cmd/internal/checksheet"
)

// TestRightTextIsRead: without a slip every notation is read as its own position. The
// row of typed positions would count nothing if the program refused them all; it may
// ask of one in ten where the two readings of a blank are both in the grid's area.
func TestRightTextIsRead(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("the whole run does it")
	}
	for _, n := range checksheet.Notations() {
		dice, asked := rand.New(rand.NewPCG(1, 9)), 0
		const positions = 300
		for range positions {
			typed, err := checksheet.Type(n, dice)
			if err != nil {
				t.Fatal(err)
			}
			sys, err := geodesy.Lookup(typed.Code)
			if err != nil {
				t.Fatal(err)
			}
			if elsewhere(typed, nil) {
				t.Errorf("%s: %q is read elsewhere", n, typed.Text)
			}
			if _, err := geodesy.ParseRef(typed.Text, geodesy.RefContext{System: sys}); err != nil {
				asked++
			}
		}
		if asked > positions/10 {
			t.Errorf("%s: %d of %d right texts are not read", n, asked, positions)
		}
	}
}

// TestRowsCanMiss: what the rows count is there to be counted. A sheet whose points
// all lie a square out is off, and says so by no caution of its own.
func TestRowsCanMiss(t *testing.T) {
	t.Parallel()
	for seed := range uint64(20) {
		s := checksheet.Make(checksheet.Recipe{Paper: checksheet.Flat, Layout: checksheet.Spread, N: 6, StepM: 1000, MPP: 5}, rand.New(rand.NewPCG(seed, 3)))
		sound := ask(s)
		if sound.c == nil || sound.off(s.Truth) > far || sound.farthest(s.Truth) > 50 {
			t.Fatalf("seed %d: a sound sheet counts as off: %v", seed, sound.stops)
		}
		if _, ok := s.Put(checksheet.AllOne); !ok {
			continue
		}
		a := ask(s)
		if a.c == nil || a.told() || !(a.off(s.Truth) > far) || math.Abs(a.farthest(s.Truth)-1000) > 50 {
			t.Errorf("seed %d: a sheet that is a square out: stops %v, %.1f times its 95 %% off", seed, a.stops, a.off(s.Truth))
		}
	}
}

// TestSoundFilesAreChecked: three named intersections and a corner's latitude and
// longitude check a file that tells the truth, or the row of lying files would count
// nothing.
func TestSoundFilesAreChecked(t *testing.T) {
	t.Parallel()
	checked := 0
	const files = 40
	for seed := range uint64(files) {
		dice := rand.New(rand.NewPCG(seed, 4))
		f := checksheet.TrueFile(dice)
		v, err := f.EvidenceAt(checksheet.Second, checksheet.Pt{X: 60, Y: 60})
		if err != nil {
			t.Fatal(err)
		}
		if a := askSheet(fileSheet(f), append(f.Named(), v)...); a.Checked {
			checked++
		}
	}
	if checked < files*9/10 {
		t.Errorf("%d of %d sound files are checked", checked, files)
	}
}
