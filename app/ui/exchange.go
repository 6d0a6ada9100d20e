package ui

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strconv"
	"time"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/atomicfile"
	"legwright/mapio/gpx"
	"legwright/mapio/openfile"
)

// askExport asks where the GPX goes and how it is written.
func (b *Bench) askExport() {
	if !b.takeTyping() {
		return
	}
	if len(b.s.Plan().Legs) == 0 && len(b.s.Plan().Marks) == 0 {
		b.say("There is nothing to export yet: keep a leg or set a mark first.")
		return
	}
	limit := widget.NewSelect([]string{"30", "20", "10"}, func(t string) {
		if n, err := strconv.Atoi(t); err == nil {
			b.set.setNameLimit(n)
		}
	})
	limit.SetSelected(strconv.Itoa(b.set.nameLimit()))
	track := widget.NewCheck("also write the route as a track", b.set.setTrack)
	track.SetChecked(b.set.track())
	b.dialogs.SavePath(pathAsk{
		Title: "Export the legs as GPX", Verb: "Export", Endings: []string{".gpx"}, Start: b.suggest(".gpx"),
		Extra: container.NewVBox(
			container.NewHBox(widget.NewLabel("Names of at most"), limit, widget.NewLabel("letters, for small receivers 10")),
			track),
		Done: func(path string) { b.writeGPX(path, false) },
	})
}

// writeGPX exports the plan's legs and marks. A read-only file is overwritten if
// over is true; otherwise the person is asked.
func (b *Bench) writeGPX(path string, over bool) {
	if err := b.tryGPX(path, over); err != nil {
		b.askReadOnly("The GPX was not exported", err, func() { b.writeGPX(path, true) })
		return
	}
	b.say(fmt.Sprintf("Exported %s%s. Check a bearing on the receiver against the map.", filepath.Base(path), stoppedWords(b.s.Rows())))
}

// stoppedWords say how many legs carry a stop, "" for none.
func stoppedWords(rows []leg.Row) string {
	n := 0
	for _, r := range rows {
		if r.Reading.Stopped() {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(": %d of %s marked STOP, do not walk on them", n, countWords(len(rows), "leg"))
}

func (b *Bench) tryGPX(path string, over bool) error {
	x, err := leg.Export(b.s.Plan())
	if err != nil {
		return err
	}
	var text bytes.Buffer
	o := gpx.Options{NameLimit: b.set.nameLimit(), Track: b.set.track(), Time: time.Now().UTC()}
	if err := gpx.Write(&text, gpx.FromLegs(x, b.s.Plan().Date), o); err != nil {
		return err
	}
	return atomicfile.WriteBytes(path, atomicfile.Options{ReadOnly: over}, text.Bytes())
}

// askImport asks for a GPX file to import.
func (b *Bench) askImport() { b.browse("Import a GPX file", "Import", []string{".gpx"}, b.importGPX) }

func readGPX(path string) (*gpx.Document, error) {
	f, err := openfile.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return gpx.Read(f)
}

// importOf turns a GPX document into what the session takes in.
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
		in.Routes = append(in.Routes, points(r.Points))
	}
	for _, t := range d.Tracks {
		track := plan.Track{Name: t.Name}
		for _, p := range t.Points {
			track.Points = append(track.Points, p.At)
		}
		in.Tracks = append(in.Tracks, track)
	}
	return in
}
