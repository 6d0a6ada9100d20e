package main

import (
	"expvar"

	"legwright/app/ui"
	"legwright/cmd/internal/memory"
)

// sample is the state of the program at one moment.
type sample struct {
	Name  string
	AtS   float64 // seconds since the mode began
	NowMB float64 // resident memory
	// Textures live on the graphics side and Uploads made until now; −1 in a
	// program built without the patched Fyne.
	Textures, Uploads int64
	// TileMB is the memory of tiles, planes and what is reserved, of BudgetMB.
	TileMB, BudgetMB float64
}

// takeSample reads the state. Call it on the main thread.
func takeSample(b *ui.Bench, name string, atS float64) sample {
	s := sample{
		Name: name, AtS: atS, NowMB: memory.NowMB(),
		Textures: counter("legwright.textures"), Uploads: counter("legwright.uploads"),
	}
	if p := b.Pyramid(); p != nil {
		st := p.Stats()
		s.TileMB = float64(st.TileBytes+st.PlaneBytes+st.ReservedBytes) / 1e6
		s.BudgetMB = float64(st.Budget) / 1e6
	}
	return s
}

// counter reads a number that the patched Fyne publishes.
func counter(name string) int64 {
	if v, ok := expvar.Get(name).(*expvar.Int); ok {
		return v.Value()
	}
	return -1
}
