package files

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/app/ui/widgets"
	"legwright/mapio/geojson"
	"legwright/mapio/openfile"
)

// geojsonEndings are the endings of GeoJSON files.
func geojsonEndings() []string { return []string{".geojson", ".json"} }

func isGeoJSON(path string) bool {
	return slices.Contains(geojsonEndings(), strings.ToLower(filepath.Ext(path)))
}

// importShapes reads a GeoJSON file beside the window, asks what its lines, areas and
// points are, and adds them to the plan.
func (x *Exchange) importShapes(path string) {
	var list []geojson.Shape
	x.taking.Start("Importing "+filepath.Base(path), func(context.Context, func(jobs.Progress)) error {
		f, err := openfile.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		if list, err = geojson.Read(f); err == nil && len(list) == 0 {
			err = errors.New("the file contains no lines, areas or points: choose another")
		}
		return err
	}, func(err error) {
		if err != nil {
			x.refuse("Nothing was imported", path, err)
			return
		}
		own, others := ownThings(filepath.Base(path), list)
		if len(others) == 0 {
			x.compute(path, own)
			return
		}
		x.askShapes(path, own, others)
	})
}

// shapeChoice is what all shapes of one kind in a file are said to be.
type shapeChoice struct {
	kind geojson.Kind
	word string // of one of them
	as   []session.ShapeAs
	n    int // of them
	list *widgets.Select
}

// The choices that are none of session.ShapeAs.
const (
	leaveOut = "Leave out"
	asMarks  = "Marks"
)

// chosen returns what they are; in is false while nothing was chosen, or if they are left
// out or become marks.
func (c shapeChoice) chosen() (as session.ShapeAs, in bool) {
	for _, a := range c.as {
		if a.String() == c.list.Selected {
			return a, true
		}
	}
	return session.ShapeAs{}, false
}

// askShapes asks what the shapes of a file are: the file does not say it in words that
// the bench could trust.
func (x *Exchange) askShapes(path string, in session.Imported, list []geojson.Shape) {
	choices := []*shapeChoice{
		{kind: geojson.Area, word: "area", as: session.AreasAs()},
		{kind: geojson.Line, word: "line", as: session.LinesAs()},
		{kind: geojson.Point, word: "point", as: session.PointsAs()},
	}
	form, holes := widget.NewForm(), 0
	for _, c := range choices {
		words := []string{leaveOut}
		if c.kind == geojson.Point {
			words = append(words, asMarks)
		}
		for _, a := range c.as {
			words = append(words, a.String())
		}
		for _, s := range list {
			if s.Kind == c.kind {
				c.n++
				holes += s.Holes
			}
		}
		if c.list = x.Dialogs.Select(words, func(string) {}); c.n > 0 {
			form.Append(CountOf(c.n, c.word), c.list)
		}
	}
	text := "Choose what the shapes in " + filepath.Base(path) + " are. Compare them with the map afterwards."
	if holes > 0 {
		text += " Holes in areas are filled: the whole area counts."
	}
	x.Dialogs.Form(ask.Form{
		Title: "Import shapes", Verb: "Import", Size: fyne.NewSize(520, 340), Body: container.NewVBox(widgets.NewWrapped(text), form),
		Submit: func() error {
			for _, c := range choices {
				if c.n > 0 && c.list.Selected == "" {
					return fmt.Errorf("choose what the %ss are, or leave them out", c.word)
				}
			}
			in := withShapes(in, list, choices)
			if in.Empty() {
				x.cancelled("Nothing was imported: every shape was left out.")
				return nil
			}
			x.compute(path, in)
			return nil
		},
		Cancelled: func() { x.cancelled("Cancelled: nothing was imported.") },
	})
}

// withShapes adds shapes of a file to what the session imports.
func withShapes(in session.Imported, list []geojson.Shape, choices []*shapeChoice) session.Imported {
	in.Shapes, in.Marks = slices.Clip(in.Shapes), slices.Clip(in.Marks)
	for _, s := range list {
		for _, c := range choices {
			if s.Kind != c.kind {
				continue
			}
			if as, ok := c.chosen(); ok {
				in.Shapes = append(in.Shapes, session.ImportedShape{Name: s.Name, Area: s.Kind == geojson.Area, Points: s.Points, As: as})
			} else if c.list.Selected == asMarks {
				in.Marks = append(in.Marks, session.ImportedPoint{Name: s.Name, At: s.Points[0]})
			}
		}
	}
	return in
}
