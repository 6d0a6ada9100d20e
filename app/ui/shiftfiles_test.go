package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

// A file that is no file of shifts is refused and not kept; one that has gone
// since is told at the start, and the bench opens all the same.
func TestShiftFilesThatCannotBeUsed(t *testing.T) {
	b := opened(t)
	path := filepath.Join(t.TempDir(), "isle.gsb")
	if err := os.WriteFile(path, []byte("no shifts"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.takeShifts(path)
	until(t, "the refusal", func() bool { return b.dialogOpen() })
	if len(b.set.shiftFiles()) != 0 || !b.footNow.Fault || !strings.Contains(b.footNow.Message, "NTv2") {
		t.Errorf("kept %v, told %q", b.set.shiftFiles(), b.footNow.Message)
	}
	b = opened(t)
	b.set.setShiftFiles([]string{path + ".gone"})
	b.resumeShifts()
	until(t, "the tale of the missing file", func() bool { return b.dialogOpen() })
	if len(b.set.shiftFiles()) != 1 {
		t.Errorf("the list is %v: its drive may come back", b.set.shiftFiles())
	}
}

// The published file of Germany, taken into use in the window, serves its
// grids, is kept in the settings, and goes away again.
func TestShiftFileInUse(t *testing.T) {
	folder := os.Getenv("LEGWRIGHT_REFERENCE")
	path := filepath.Join(folder, "grid", "BETA2007.gsb")
	if _, err := os.Stat(path); folder == "" || err != nil {
		t.Skip("LEGWRIGHT_REFERENCE names no folder with grid/BETA2007.gsb")
	}
	t.Cleanup(geodesy.WithdrawShifts)
	b := opened(t)
	name := func() string {
		sys, err := geodesy.Lookup(geodesy.EPSG(31467))
		if err != nil {
			t.Fatal(err)
		}
		shift, _ := sys.TypicalShift()
		return shift.Name
	}
	b.takeShifts(path)
	until(t, "the shifts", func() bool { return strings.Contains(name(), "NTv2") })
	if list := b.set.shiftFiles(); len(list) != 1 || list[0] != path {
		t.Errorf("kept %v", list)
	}
	b.forgetShifts()
	if list := b.set.shiftFiles(); len(list) != 0 || strings.Contains(name(), "NTv2") {
		t.Errorf("kept %v, shift %s", list, name())
	}
	b.set.setShiftFiles([]string{path})
	b.resumeShifts()
	until(t, "the shifts again", func() bool { return strings.Contains(name(), "NTv2") })
}
