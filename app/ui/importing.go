package ui

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"legwright/app/session"
)

// importState is an import of a file that is read and worked out away from
// the window.
type importState struct {
	turn   int // counts imports, and plans that end one under way
	cancel context.CancelFunc
	view   *progressView
}

// importGPX reads a file and brings in what it holds, with its progress and a
// way to give it up. Another import, and another plan, end it.
func (b *Bench) importGPX(path string) {
	b.endImport()
	b.say("Reading " + filepath.Base(path) + "…")
	ctx, cancel := context.WithCancel(context.Background())
	i := &b.imports
	i.cancel, i.view = cancel, newProgressView(b, filepath.Base(path), b.giveUpImport)
	i.view.Tell("Reading the file…", -1)
	turn := i.turn
	go func() {
		doc, err := readGPX(path)
		if err == nil && ctx.Err() != nil {
			return
		}
		var in session.Imported
		if err == nil {
			in = importOf(doc)
			in.Name = filepath.Base(path)
		}
		b.laterImport(turn, func() {
			if err != nil {
				b.endImport()
				b.refuseFile("This GPX file cannot be read", err, b.desk.EndBatch())
				return
			}
			b.workOut(ctx, path, in)
		})
	}()
}

// workOut computes what the places of a file make of the plan.
func (b *Bench) workOut(ctx context.Context, path string, in session.Imported) {
	turn := b.imports.turn
	w, err := b.s.BeginImport(in)
	if err != nil {
		b.brought(path, session.ImportReport{}, err)
		return
	}
	go func() {
		var last time.Time
		err := w.Run(ctx, func(done, total int) {
			if time.Since(last) < progressEvery {
				return
			}
			last = time.Now()
			b.laterImport(turn, func() {
				b.imports.view.Tell(fmt.Sprintf("Position %d of %d", done, total), float64(done)/float64(max(total, 1)))
			})
		})
		b.laterImport(turn, func() {
			var report session.ImportReport
			if err == nil {
				report, err = b.s.EndImport(w)
			}
			if errors.Is(err, session.ErrPlanChanged) {
				b.workOut(ctx, path, in) // again, for the changed plan
				return
			}
			b.brought(path, report, err)
		})
	}()
}

// progressEvery is how often an import tells how far it is.
const progressEvery = 80 * time.Millisecond

// brought says what came of an import.
func (b *Bench) brought(path string, report session.ImportReport, err error) {
	b.endImport()
	if err != nil {
		b.refuseFile("Nothing was imported", err, b.desk.EndBatch())
		return
	}
	b.say(fmt.Sprintf("From %s: %s.", filepath.Base(path), report))
	b.tellLeft(b.desk.EndBatch())
}

// laterImport does f on the window's goroutine, unless the import of that turn
// has ended by then.
func (b *Bench) laterImport(turn int, f func()) {
	b.later(func() {
		if turn == b.imports.turn {
			f()
		}
	})
}

// giveUpImport cancels the import under way.
func (b *Bench) giveUpImport() {
	b.endImport()
	b.say("Cancelled: nothing was imported.")
}

// endImport cancels the import under way and the reading of a plan, if any.
func (b *Bench) endImport() {
	b.cancelReading()
	i := &b.imports
	i.turn++
	if i.cancel != nil {
		i.cancel()
	}
	i.view.close()
	i.cancel, i.view = nil, nil
}
