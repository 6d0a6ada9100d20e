package files

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/mapio/gpx"
	"legwright/mapio/openfile"
)

// AskImport asks for a GPX or GeoJSON file to import.
func (x *Exchange) AskImport() {
	x.Dialogs.OpenPath(ask.Path{
		Title: "Import GPX or GeoJSON", Verb: "Import", Start: x.saver.suggest(""), Endings: append([]string{gpxEnding}, geojsonEndings()...),
		Done: x.Import,
	})
}

// stagePositions is the part of an import that converts positions.
const stagePositions = "positions"

// importStage says what an import is doing.
func importStage(j jobs.Job) string {
	if j.Progress.Stage == stagePositions {
		return fmt.Sprintf("Position %d of %d", j.Progress.Done, j.Progress.Total)
	}
	return "Reading the file…"
}

// Import reads a GPX or GeoJSON file beside the window and adds what it holds to the plan.
// Another import, and another plan, cancel it.
func (x *Exchange) Import(path string) {
	if isGeoJSON(path) {
		x.importShapes(path)
		return
	}
	var in session.Imported
	x.taking.Start("Importing "+filepath.Base(path), func(context.Context, func(jobs.Progress)) error {
		doc, err := readGPX(path)
		if err == nil {
			in = importOf(doc)
			in.Name = filepath.Base(path)
			if len(in.Marks)+len(in.Routes)+len(in.Tracks) == 0 {
				err = errors.New("the file contains no marks, routes or tracks: choose another")
			}
		}
		return err
	}, func(err error) {
		if err != nil {
			x.refuse("Nothing was imported", path, err)
			return
		}
		x.compute(path, in)
	})
}

// compute works out beside the window what the positions of a file make of the plan.
func (x *Exchange) compute(path string, in session.Imported) {
	w, err := x.Session.BeginImport(in)
	if err != nil {
		x.refuse("Nothing was imported", path, err)
		return
	}
	touches, off := x.onSheet(), ""
	x.taking.Start("Importing "+filepath.Base(path), func(ctx context.Context, tell func(jobs.Progress)) error {
		off = offSheet(in.Tracks, touches)
		return w.Run(ctx, func(done, total int) {
			tell(jobs.Progress{Stage: stagePositions, Done: int64(done), Total: int64(total)})
		})
	}, func(err error) {
		var report session.ImportReport
		if err == nil {
			report, err = x.Session.EndImport(w)
		}
		switch {
		case errors.Is(err, session.ErrPlanChanged):
			x.compute(path, in) // again, for the changed plan
		case err != nil:
			x.refuse("Nothing was imported", path, err)
		default:
			x.done(importedWords(report, filepath.Base(path)) + off)
		}
	})
}

// onSheet returns what tells whether a position lies on the sheet that is shown, nil if
// nobody can know.
func (x *Exchange) onSheet() func(geodesy.LatLon) bool {
	sheet, ok := x.Session.Sheet()
	c, err := x.Session.Calibration()
	sys := x.Session.Reader().System()
	if !ok || err != nil || sys == nil {
		return nil
	}
	return func(at geodesy.LatLon) bool {
		g, _, _, err := sys.FromWGS84(at)
		if err != nil {
			return false
		}
		p := c.ToPicture(g)
		return p.Col >= 0 && p.Row >= 0 && p.Col <= float64(sheet.Width) && p.Row <= float64(sheet.Height)
	}
}

// offSheet says which tracks do not touch the sheet: nothing of them would be seen.
func offSheet(tracks []plan.Track, touches func(geodesy.LatLon) bool) string {
	if touches == nil {
		return ""
	}
	off, name := 0, ""
	for _, t := range tracks {
		if !slices.ContainsFunc(t.Points, touches) {
			off, name = off+1, t.Name
		}
	}
	switch {
	case off == 0:
		return ""
	case off > 1:
		return fmt.Sprintf(" %d tracks are off this sheet.", off)
	case name != "":
		return fmt.Sprintf(" The track %s is off this sheet.", name)
	}
	return " The track is off this sheet."
}

// Importing reports whether a file is being imported.
func (x *Exchange) Importing() bool { _, on := x.taking.Now(); return on }

// Cancel cancels the import under way, and what was dropped with its file.
func (x *Exchange) Cancel() {
	if x.taking.Cancel() {
		x.cancelled("Import cancelled. Nothing was added.")
	}
}

func readGPX(path string) (*gpx.Document, error) {
	f, err := openfile.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return gpx.Read(f)
}

// importOf turns a GPX document into what the session imports.
func importOf(d *gpx.Document) session.Imported {
	var in session.Imported
	points := func(list []gpx.Point) []session.ImportedPoint {
		out := make([]session.ImportedPoint, len(list))
		for i, p := range list {
			out[i] = session.ImportedPoint{Name: p.Name, Note: p.Desc, At: p.At, Cautions: p.Cautions}
		}
		return out
	}
	in.Marks = points(d.Marks)
	for _, r := range d.Routes {
		if r.Escape {
			in.Escapes++
			continue
		}
		in.Routes = append(in.Routes, points(r.Points))
	}
	for _, t := range d.Tracks {
		if t.Escape {
			continue // it is a route of the file as well
		}
		track := plan.Track{Name: t.Name}
		for _, p := range t.Points {
			track.Points = append(track.Points, p.At)
		}
		in.Tracks = append(in.Tracks, track)
	}
	return in
}
