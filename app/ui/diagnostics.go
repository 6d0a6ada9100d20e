package ui

import (
	"fmt"
	"runtime"
	"runtime/metrics"
	"strings"

	"fyne.io/fyne/v2"

	"legwright/app/ui/files"
	"legwright/app/ui/opening"
	"legwright/assets/release"
	"legwright/canvas/mapview"
	"legwright/canvas/pyramid"
)

// figureRow is one line of the diagnostics.
type figureRow struct{ name, value string }

// figureText is the rows as lines of text.
func figureText(rows []figureRow) string {
	var s strings.Builder
	for _, r := range rows {
		fmt.Fprintf(&s, "%-24s %s\n", r.name, r.value)
	}
	return s.String()
}

// figures are what the diagnostics show.
type figures struct {
	window fyne.Window
	desk   *opening.Desk
	sheet  *mapview.MapView
}

// rows are the figures of this moment.
func (f *figures) rows() []figureRow {
	rows := []figureRow{{"Program", release.Program + ", " + runtime.Version() + ", " + runtime.GOOS + " " + runtime.GOARCH}}
	if p := f.desk.Pyramid(); p == nil {
		rows = append(rows, figureRow{"Picture", "none"})
	} else {
		rows = append(rows, f.pictureRows(p)...)
	}
	rows = append(rows, f.storeRows()...)
	size, scale := f.sheet.Size(), f.window.Canvas().Scale()
	return append(rows,
		figureRow{"Sheet in the window", fmt.Sprintf("%.0f × %.0f pixels at scale %.2g, zoom %.3g", size.Width*scale, size.Height*scale, scale, f.sheet.View().Scale())},
		figureRow{"Heap", heapWords()})
}

func (f *figures) pictureRows(p *pyramid.Pyramid) []figureRow {
	picture, _ := f.desk.Picture()
	h, s, size := picture.Header, p.Stats(), p.Size()
	trial := ""
	if s.LevelsTrial > 0 {
		trial = fmt.Sprintf(", %d of them provisional", s.LevelsTrial)
	}
	state := "whole"
	_, opens := f.desk.Job()
	switch {
	case opens:
		state = "the rest is being read"
	case picture.Copy:
		state = "stored copy; the picture's file is missing"
	}
	return []figureRow{
		{"Picture", picture.Name()},
		{"Kind and size", fmt.Sprintf("%s, %d × %d pixels, %.1f megapixels, %s", h.Format, size.X, size.Y, float64(size.X)*float64(size.Y)/1e6, dpiWords(h.DPI))},
		{"State", state},
		{"Levels ready", fmt.Sprintf("%d of %d%s", s.LevelsReady, s.Levels, trial)},
		{"Picture in memory", files.Megabytes(s.PictureBytes)},
		{"Levels in memory", files.Megabytes(s.LevelBytes)},
		{"Tiles in memory", fmt.Sprintf("%d, %s", s.Tiles, files.Megabytes(s.TileBytes))},
		{"Stored tiles in memory", files.Megabytes(s.PlaneBytes)},
		{"Turned tiles in memory", files.Megabytes(s.ReservedBytes)},
		{"Memory limit", files.Megabytes(s.Budget)},
	}
}

func dpiWords(dpi float64) string {
	if dpi <= 0 {
		return "resolution not given"
	}
	return fmt.Sprintf("%.0f pixels per inch", dpi)
}

func (f *figures) storeRows() []figureRow {
	store := f.desk.Source().Store
	if store == nil {
		return []figureRow{{"Store", "none: its folder cannot be created"}}
	}
	bytes, sheets := store.Size()
	row := figureRow{"Store", fmt.Sprintf("%s in all, %s", files.CountOf(sheets, "picture"), files.Megabytes(bytes))}
	if p := f.desk.Pyramid(); p != nil {
		if s := p.Stats(); s.Stored {
			row.value += fmt.Sprintf("; this picture takes %s", files.Megabytes(s.StoreBytes))
		} else {
			row.value += "; this picture is not stored"
		}
	}
	return []figureRow{row}
}

// heapWords says what the Go heap holds and what the system has given.
func heapWords() string {
	read := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(read)
	return fmt.Sprintf("%s in use, %s from the system", files.Megabytes(int64(read[0].Value.Uint64())),
		files.Megabytes(int64(read[1].Value.Uint64()-read[2].Value.Uint64())))
}
