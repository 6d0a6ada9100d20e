package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/geodesy"
)

// keyShifts is the preference that lists the files of datum shifts in use.
const keyShifts = "shift-files"

// mostShiftFiles is how many files of shifts are kept: one for each datum that
// takes one, with room to spare.
const mostShiftFiles = 8

func (s settings) shiftFiles() []string { return s.prefs.StringList(keyShifts) }

func (s settings) setShiftFiles(list []string) {
	s.prefs.SetStringList(keyShifts, list[:min(len(list), mostShiftFiles)])
}

// shiftFile is a file of datum shifts as it was read.
type shiftFile struct {
	path string
	file *geodesy.NTv2
	err  error
}

func readShiftFile(path string) shiftFile {
	f, err := os.Open(path)
	if err != nil {
		return shiftFile{path: path, err: err}
	}
	defer f.Close()
	file, err := geodesy.ReadNTv2(f)
	return shiftFile{path, file, err}
}

// askShifts takes an NTv2 file into use, or puts those in use away.
func (b *Bench) askShifts() {
	choose := func() {
		b.browse("A file of datum shifts", []string{".gsb", ".GSB"}, b.takeShifts)
	}
	list := b.set.shiftFiles()
	if len(list) == 0 {
		choose()
		return
	}
	text := "In use: " + strings.Join(list, ", ") + ". Where a file reaches, latitude and longitude of its datum come by it."
	b.question("Files of datum shifts", text, nil,
		answer{"Another file…", choose, true}, answer{"Use none", b.forgetShifts, false}, answer{"Close", nil, false})
}

// takeShifts reads a file away from the window and puts it into use.
func (b *Bench) takeShifts(path string) {
	b.say("Reading " + filepath.Base(path) + "…")
	go func() {
		f := readShiftFile(path)
		b.later(func() {
			serves, err := supply(f)
			if err != nil {
				b.refuse("This file of shifts cannot be used", err)
				return
			}
			list := slices.DeleteFunc(b.set.shiftFiles(), func(p string) bool { return p == path })
			b.set.setShiftFiles(append([]string{path}, list...))
			b.s.ShiftsChanged()
			b.refreshAll()
			b.say(fmt.Sprintf("Shifts for %s in use, from %s. They stay so when the bench opens again.", serves, filepath.Base(path)))
		})
	}()
}

func supply(f shiftFile) (serves string, err error) {
	if f.err != nil {
		return "", fmt.Errorf("%s: %w", filepath.Base(f.path), f.err)
	}
	return geodesy.SupplyShiftFile(filepath.Base(f.path), f.file)
}

// forgetShifts goes back to the published shifts.
func (b *Bench) forgetShifts() {
	b.set.setShiftFiles(nil)
	geodesy.WithdrawShifts()
	b.s.ShiftsChanged()
	b.refreshAll()
	b.say("No file of shifts is in use now.")
}

// resumeShifts puts the files of the settings into use again at the start. One
// that cannot be read is told and kept in the list: its drive may come back.
func (b *Bench) resumeShifts() {
	list := b.set.shiftFiles()
	if len(list) == 0 {
		return
	}
	go func() {
		var files []shiftFile
		for _, path := range slices.Backward(list) { // the newest is put in last and wins
			files = append(files, readShiftFile(path))
		}
		b.later(func() { b.resumed(files) })
	}()
}

func (b *Bench) resumed(files []shiftFile) {
	var failed []string
	for _, f := range files {
		if _, err := supply(f); err != nil {
			failed = append(failed, err.Error())
		}
	}
	b.s.ShiftsChanged()
	b.refreshAll()
	if len(failed) > 0 {
		b.tell("Datum shifts are missing", "The published shifts serve instead, which are coarser. "+sentenceText(strings.Join(failed, "; ")))
	}
}
