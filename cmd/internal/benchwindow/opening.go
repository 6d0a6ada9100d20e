package main

import (
	"errors"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/ui"
	"legwright/canvas/pyramid"
	"legwright/cmd/internal/memory"
)

// opened is how an opening went.
type opened struct {
	Name string
	// SharpMs is the time from the standing window to the sharp sheet,
	// SharpFromStartMs that from the start of the program.
	SharpMs, SharpFromStartMs float64
	// WholeMs is the time from the start to every level, in the store if there
	// is one.
	WholeMs float64
	Stored  bool
	PeakMB  float64 // most resident memory until then
	NowMB   float64 // resident memory three seconds later
	Level   int     // levels that are still those of a preview at the first sharp picture
}

// opening waits for the sheet to be sharp and then whole.
func opening(b *ui.Bench, began time.Time) {
	stands := time.Now()
	waitSharp(b)
	o := opened{Name: "open", SharpMs: ms(time.Since(stands)), SharpFromStartMs: ms(time.Since(began))}
	var p *pyramid.Pyramid
	fyne.DoAndWait(func() { p = b.Pyramid() })
	o.Level = p.Stats().LevelsTrial
	if err := p.WaitWhole(); err != nil {
		fail(errors.Join(errors.New("the levels did not get ready"), err))
	}
	o.WholeMs, o.Stored, o.PeakMB = ms(time.Since(began)), p.Stats().Stored, memory.PeakMB()
	time.Sleep(3 * time.Second)
	o.NowMB = memory.NowMB()
	tell(o)
}

func ms(d time.Duration) float64 { return d.Seconds() * 1000 }
