package ui

import (
	"fmt"
	"runtime"
	"runtime/metrics"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/widgets"
	"legwright/canvas/pyramid"
)

// figureRow is one line of the diagnostics.
type figureRow struct{ name, value string }

// showDiagnostics lists what the program does with the picture and with
// memory, for somebody who wants to know why it is slow or large.
func (b *Bench) showDiagnostics() {
	rows := b.diagnostics()
	grid := container.New(&keysLayout{})
	for _, r := range rows {
		name := widgets.NewWrapped(r.name)
		name.TextStyle.Bold = true
		grid.Add(name)
		grid.Add(widgets.NewWrapped(r.value))
	}
	scroll := container.NewVScroll(grid)
	scroll.SetMinSize(fyne.NewSize(600, 400))
	b.dialogs.QuestionOver("Diagnostics", scroll, nil,
		answer{Text: "Copy as text", Do: func() { b.app.Clipboard().SetContent(figureText(rows)); b.say("Copied the diagnostics.") }},
		answer{Text: "Close", Default: true})
}

// figureText is the rows as lines of text.
func figureText(rows []figureRow) string {
	var s strings.Builder
	for _, r := range rows {
		fmt.Fprintf(&s, "%-24s %s\n", r.name, r.value)
	}
	return s.String()
}

// diagnostics are the figures of this moment.
func (b *Bench) diagnostics() []figureRow {
	meta := b.app.Metadata()
	rows := []figureRow{{"Program", "Legwright " + meta.Version + ", " + runtime.Version() + ", " + runtime.GOOS + " " + runtime.GOARCH}}
	if p := b.desk.Pyramid(); p == nil {
		rows = append(rows, figureRow{"Picture", "none"})
	} else {
		rows = append(rows, b.pictureRows(p)...)
	}
	rows = append(rows, b.storeRows()...)
	size, scale := b.sheet.Size(), b.window.Canvas().Scale()
	return append(rows,
		figureRow{"Sheet in the window", fmt.Sprintf("%.0f × %.0f pixels at scale %.2g, zoom %.3g", size.Width*scale, size.Height*scale, scale, b.sheet.View().Scale())},
		figureRow{"Heap", heapWords()})
}

func (b *Bench) pictureRows(p *pyramid.Pyramid) []figureRow {
	picture, _ := b.desk.Picture()
	h, s, size := picture.Header, p.Stats(), p.Size()
	trial := ""
	if s.LevelsTrial > 0 {
		trial = fmt.Sprintf(", %d of them provisional", s.LevelsTrial)
	}
	state := "whole"
	switch {
	case b.openingPicture():
		state = "the rest is being read"
	case picture.Copy:
		state = "kept from an earlier opening; the file is not there"
	}
	return []figureRow{
		{"Picture", picture.Name()},
		{"Kind and size", fmt.Sprintf("%s, %d × %d pixels, %.1f megapixels, %s", h.Format, size.X, size.Y, float64(size.X)*float64(size.Y)/1e6, dpiWords(h.DPI))},
		{"State", state},
		{"Levels ready", fmt.Sprintf("%d of %d%s", s.LevelsReady, s.Levels, trial)},
		{"Picture in memory", megabytes(s.PictureBytes)},
		{"Levels in memory", megabytes(s.LevelBytes)},
		{"Tiles in memory", fmt.Sprintf("%d, %s", s.Tiles, megabytes(s.TileBytes))},
		{"Read from the store", megabytes(s.PlaneBytes)},
		{"Turned tiles in memory", megabytes(s.ReservedBytes)},
		{"Budget of these", megabytes(s.Budget)},
	}
}

func dpiWords(dpi float64) string {
	if dpi <= 0 {
		return "resolution not given"
	}
	return fmt.Sprintf("%.0f dots to the inch", dpi)
}

func (b *Bench) storeRows() []figureRow {
	store := b.desk.Source().Store
	if store == nil {
		return []figureRow{{"Store", "none: its folder cannot be made"}}
	}
	bytes, sheets := store.Size()
	row := figureRow{"Store", fmt.Sprintf("%s in all, %s", countWords(sheets, "picture"), megabytes(bytes))}
	if p := b.desk.Pyramid(); p != nil {
		if s := p.Stats(); s.Stored {
			row.value += fmt.Sprintf("; this one in %s", megabytes(s.StoreBytes))
		} else {
			row.value += "; this one is not in it"
		}
	}
	return []figureRow{row}
}

// heapWords says what the Go heap holds and what the system has given.
func heapWords() string {
	read := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(read)
	return fmt.Sprintf("%s in use, %s from the system", megabytes(int64(read[0].Value.Uint64())),
		megabytes(int64(read[1].Value.Uint64()-read[2].Value.Uint64())))
}
