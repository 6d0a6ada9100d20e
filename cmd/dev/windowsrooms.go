package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"legwright/cmd/internal/windowtest"
)

// winRooms write files or read typed paths, and need no C: their tests run under Wine too.
func winRooms() []string {
	return []string{"./mapio/atomicfile", "./mapio/openfile", "./mapio/planfile", "./mapio/legpack", "./app/ui/ask"}
}

// otherOnWindows are tests of these rooms that cannot pass under Wine, and why.
func otherOnWindows() map[string]string {
	const links = "Wine 8 does not follow links"
	return map[string]string{
		"TestLinksStay":                                  links,
		"TestALinkStaysALink":                            links,
		"TestAPickedLinkIsFollowed":                      links,
		"TestLinksOutOfAFolderAreNotOpened":              links,
		"TestPicturesOutsideThePlansFolderAreAskedAbout": links + "; Windows allows no colon in a name, and /etc is no whole path there",
		"TestSavingOnARealFullDisk":                      "/dev/full is a file of Linux",
		"TestADeletedFolderIsMadeAgain":                  "Windows deletes no file that is open",
		"TestBadPacksAreRefused":                         noRemoval + " leaves the unpacked files behind",
		"FuzzUnpack":                                     noRemoval + " leaves the unpacked files behind",
	}
}

// noRemoval: the call that os.RemoveAll makes on Windows is one that Wine 8 lacks. So
// each test that makes a folder fails at its very end.
const noRemoval = "os.RemoveAll under Wine 8"

// endsInRemoval marks the line of such an end.
const endsInRemoval = "TempDir RemoveAll cleanup: "

// runRooms runs the tests of the rooms under Wine.
func (w *wine) runRooms(ctx context.Context) error {
	others := otherOnWindows()
	names := slices.Sorted(maps.Keys(others))
	for _, name := range names {
		fmt.Fprintf(w.out, "not run  %s: %s\n", name, others[name])
	}
	cmd := w.command(ctx, "go", append([]string{"test", "-json", "-count=1", "-tags", buildTag, "-exec", "wine", "-skip", "^(" + strings.Join(names, "|") + ")$"}, winRooms()...)...)
	cmd.Env = append(w.environment(), "GOOS=windows", "GOARCH=amd64", "CGO_ENABLED=0")
	var out bytes.Buffer
	cmd.Stdout = &out
	_ = cmd.Run() // what failed stands in its output
	passed, faults, err := readRooms(&out)
	if err == nil && passed < 100 {
		err = fmt.Errorf("only %d tests of the rooms passed under Wine\n%s", passed, faults)
	}
	if err == nil && faults != "" {
		err = errors.New("under Wine tests of the rooms failed\n" + faults)
	}
	if err == nil {
		fmt.Fprintf(w.out, "same     %d tests of %s; %s was passed over at their ends\n", passed, strings.Join(winRooms(), ", "), noRemoval)
	}
	return err
}

// readRooms counts the tests that passed, or failed at their removal alone, in what go test
// -json printed. faults are the lines of the others, and those of rooms that were not tested.
func readRooms(from io.Reader) (passed int, faults string, err error) {
	type key struct{ room, test string }
	said := map[key][]string{}
	failing := map[string]bool{} // rooms in which a test failed
	above := map[key]bool{}      // tests that fail because one below them did
	for d := json.NewDecoder(from); d.More(); {
		var e struct{ Action, Package, Test, Output string }
		if err := d.Decode(&e); err != nil {
			return 0, "", err
		}
		at := key{e.Package, e.Test}
		switch e.Action {
		case "output":
			said[at] = append(said[at], e.Output)
		case "pass":
			if e.Test != "" {
				passed++
			}
		case "fail":
			if e.Test == "" && failing[e.Package] {
				continue // its tests have said why
			}
			failing[e.Package] = true
			removal := slices.ContainsFunc(said[at], func(line string) bool { return strings.Contains(line, endsInRemoval) })
			wrong := slices.DeleteFunc(said[at], func(line string) bool {
				line = strings.TrimSpace(line)
				return strings.HasPrefix(line, "=== ") || strings.HasPrefix(line, "--- ") || strings.Contains(line, endsInRemoval)
			})
			if len(wrong) == 0 && (removal || above[at]) {
				passed++
				if i := strings.LastIndex(at.test, "/"); i > 0 {
					above[key{at.room, at.test[:i]}] = true
				}
				continue
			}
			faults += e.Package + " " + e.Test + "\n" + strings.Join(wrong, "")
		}
	}
	return passed, faults, nil
}

// runWindow works the program's window under Wine, with all its files on a drive E: the main
// job, a second bench beside the first, then kills.
func (w *wine) runWindow(ctx context.Context, kills int) error {
	program := filepath.Join(filepath.Dir(w.program), winProgram)
	drive := filepath.Join(w.dir, "drive")
	home, beside := filepath.Join(drive, "home"), filepath.Join(drive, "beside")
	err := errors.Join(os.MkdirAll(home, 0o700), os.Mkdir(beside, 0o700), os.Symlink(drive, filepath.Join(w.dir, "prefix", "dosdevices", "e:")))
	if err != nil {
		return err
	}
	environment := append(w.environment(), windowtest.DriveEnv+"="+drive)
	for _, kv := range environment {
		if name, value, _ := strings.Cut(kv, "="); strings.HasPrefix(name, "WINE") || name == windowtest.DriveEnv {
			if err := os.Setenv(name, value); err != nil {
				return err
			}
		}
	}
	with := *w.runner
	with.env = append(environment, "TMPDIR="+drive, "LEGWRIGHT_WINDOW_TESTS=1", "LEGWRIGHT_WINDOW_PROGRAM="+program)
	if err := with.do(ctx, "go", "test", "-count=1", "-timeout", "15m", "-tags", buildTag, "-run", "TestMainJob$", "./cmd/internal/windowtest"); err != nil {
		return err
	}
	if err := windowtest.Second(ctx, program, beside, w.out); err != nil {
		return fmt.Errorf("under Wine: %w", err)
	}
	k := windowtest.Kills{Bin: program, Dir: home, Seed: 1, Out: w.out}
	return k.Run(ctx, kills)
}
