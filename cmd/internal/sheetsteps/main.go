// Command sheetsteps takes one step of opening a big sheet, without a window
// and as the first thing its process does, and prints what it took as one
// line of JSON. The speed figures start it anew for each measurement: the
// first call in a fresh process is what a person waits for.
//
//	sheetsteps STEP FILE [STORE]
//
// The steps:
//
//	eighth  the JPEG decoder alone, at an eighth of the size
//	bare    the decoder alone, at full size
//	first   the bench's way to every tile of the fitted view
//	whole   the same without a preview
//	levels  the bench's way to every level in the store
//	reopen  the bench's way to the fitted view of a sheet in the store
package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"time"

	"github.com/gen2brain/jpegn"

	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

func main() {
	began := time.Now()
	if len(os.Args) < 3 {
		fmt.Fprintln(os.Stderr, "usage: sheetsteps eighth|bare|first|whole|levels|reopen FILE [STORE]")
		os.Exit(2)
	}
	// When the step ended, and of levels, when every level could first be cut.
	var took struct{ Seconds, ReadySeconds float64 }
	ready := func() { took.ReadySeconds = time.Since(began).Seconds() }
	err := step(os.Args[1], os.Args[2], append(os.Args, "")[3], ready)
	took.Seconds = time.Since(began).Seconds()
	if err == nil {
		err = json.NewEncoder(os.Stdout).Encode(took)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "sheetsteps:", err)
		os.Exit(1)
	}
	// The end of the process takes the rest of the work with it, as it takes
	// that of a peer.
	os.Exit(0)
}

func step(name, file, store string, ready func()) error {
	switch name {
	case "eighth":
		return decode(file, 8)
	case "bare":
		return decode(file, 1)
	case "first":
		return first(open(file, store, max(areaW, areaH)))
	case "whole":
		return first(open(file, store, 0))
	case "levels":
		return levels(open(file, store, max(areaW, areaH)), ready)
	case "reopen":
		return reopen(file, store)
	}
	return fmt.Errorf("there is no step %q", name)
}

// decode is the decoder's own decode and nothing else, of a JPEG at a share of
// its size.
func decode(file string, share int) error {
	raw, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	if filepath.Ext(file) == ".png" {
		_, err = png.Decode(bytes.NewReader(raw))
	} else {
		_, err = jpegn.Decode(bytes.NewReader(raw), &jpegn.Options{ScaleDenom: share})
	}
	return err
}

// reopen shows a sheet that the store knows.
func reopen(file, store string) error {
	s, err := pyramid.OpenStore(store, 0, pyramid.Owner{})
	if err != nil {
		return err
	}
	mark, err := scan.Mark(os.DirFS(filepath.Dir(file)), filepath.Base(file))
	if err != nil {
		return err
	}
	key, _, ok := s.Find(mark)
	if !ok {
		return errors.New("the store does not know the sheet")
	}
	p, err := s.Open(key, pyramid.Options{})
	if err != nil {
		return err
	}
	return showFitted(p)
}
