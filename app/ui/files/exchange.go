package files

import (
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/jobs"
	"legwright/app/ui/widgets"
	"legwright/mapio/atomicfile"
	mapexport "legwright/mapio/export"
	"legwright/mapio/feature"
	"legwright/mapio/gpx"
	"legwright/mapio/table"
)

// Exchange exports plans in open formats and imports GPX and GeoJSON.
type Exchange struct {
	Needs
	saver           *Saver
	writing, taking *jobs.Slot
}

func newExchange(n Needs, saver *Saver) *Exchange {
	x := &Exchange{Needs: n, saver: saver, writing: jobs.NewSlot(n.Later), taking: jobs.NewSlot(n.Later)}
	n.showJob(x.taking, importStage, x.Cancel)
	return x
}

// gpxEnding is the ending of GPX files.
const gpxEnding = ".gpx"

// Export asks where the plan goes; the ending of the name says in which format.
func (x *Exchange) Export() {
	if !x.Host.TakeTyping() {
		return
	}
	if x.Session.Plan().Empty() {
		x.Foot.Say(foot.SentenceOf(feature.ErrNothing.Error()))
		return
	}
	limit := x.Dialogs.Select([]string{"30", "20", "10"}, func(t string) {
		if n, err := strconv.Atoi(t); err == nil {
			x.Settings.setNameLimit(n)
		}
	})
	limit.SetSelected(strconv.Itoa(x.Settings.nameLimit()))
	track := x.Dialogs.Check("In GPX, also export the route as a track", x.Settings.setTrack)
	track.SetChecked(x.Settings.track())
	plain := x.Dialogs.Check("Plain letters in GPX names: A to Z without accents", x.Settings.setPlainNames)
	plain.SetChecked(x.Settings.plainNames())
	var endings []string
	for _, f := range mapexport.Formats() {
		endings = append(endings, string(f))
	}
	x.Dialogs.SavePath(ask.Path{
		Title: "Export", Verb: "Export", Start: x.saver.suggest(gpxEnding), Endings: endings,
		Extra: container.NewVBox(
			widgets.NewWrapped("End the name in .gpx for a receiver, in .geojson or .kml for a program that shows maps, or in .csv for a spreadsheet."),
			container.NewHBox(widget.NewLabel("Shorten names in GPX to"), limit, widget.NewLabel("letters (small receivers show 10)")),
			plain, track),
		Done: func(path string) { x.write(path, false) },
	})
}

// write exports the plan beside the window. A read-only file is overwritten if over is true;
// otherwise the person is asked.
func (x *Exchange) write(path string, over bool) {
	const refused = "The plan was not exported"
	if job, busy := x.writing.Now(); busy {
		x.Dialogs.Refuse(refused, fmt.Errorf("still %s: try again in a moment", strings.ToLower(job.Title[:1])+job.Title[1:]))
		return
	}
	format, err := mapexport.FormatOf(path)
	if err != nil {
		x.Dialogs.Refuse(refused, err)
		return
	}
	x.Session.Settle()
	p := x.Session.Plan()
	heights, _ := x.Session.Ground()
	o := gpx.Options{NameLimit: x.Settings.nameLimit(), Plain: x.Settings.plainNames(), Track: x.Settings.track(), Time: time.Now().UTC()}
	words := ""
	x.writing.Start("Exporting "+filepath.Base(path), func(ctx context.Context, _ func(jobs.Progress)) error {
		r, err := leg.NewReader(p)
		if err != nil {
			return err
		}
		words, err = exportTo(ctx, path, over, r.Over(heights), format, o)
		return err
	}, func(err error) {
		if err != nil {
			x.askReadOnly(refused, err, func() { x.write(path, true) })
			return
		}
		check, on := "bearing", ""
		if len(p.Legs) == 0 {
			check = "position"
		}
		if format == mapexport.GPX {
			on = " on the receiver"
		}
		x.Foot.Say(fmt.Sprintf("Exported %s%s. Check one %s%s against the map.", filepath.Base(path), words, check, on))
	})
}

// exportTo writes a plan to a file and says what is in it.
func exportTo(ctx context.Context, path string, over bool, r *leg.Reader, format mapexport.Format, o gpx.Options) (words string, err error) {
	text, err := mapexport.Bytes(r, format, o)
	if err == nil {
		words, err = exportedWords(r, format), ctx.Err()
	}
	if err == nil {
		err = atomicfile.WriteBytes(path, atomicfile.Options{ReadOnly: over}, text)
	}
	return words, err
}

// CopyLedger copies the ledger so that it pastes into a spreadsheet.
func (x *Exchange) CopyLedger() {
	if !x.Host.TakeTyping() {
		return
	}
	x.Session.Settle()
	r := x.Session.Judged()
	text, err := table.Tabbed(r)
	if err != nil {
		x.Foot.Fail(err)
		return
	}
	fyne.CurrentApp().Clipboard().SetContent(text)
	said := "Copied the ledger. Paste it into a spreadsheet."
	if stops := exportedWords(r, mapexport.CSV); stops != "" {
		said = "Copied the ledger" + stops + "."
	}
	x.Foot.Say(said)
}

// Exporting reports whether a file is being exported.
func (x *Exchange) Exporting() bool { _, on := x.writing.Now(); return on }

// exportedWords say of an export into which routes it fell, where there are several,
// how many legs carry a stop, and how many escapes are drafts.
func exportedWords(r *leg.Reader, f mapexport.Format) string {
	var parts []string
	if chains := r.Plan().Chains(); len(chains) > 1 && f == mapexport.GPX {
		var legs []string
		for _, c := range chains {
			if c.First == c.Last {
				legs = append(legs, strconv.Itoa(c.First+1))
			} else {
				legs = append(legs, fmt.Sprintf("%d–%d", c.First+1, c.Last+1))
			}
		}
		parts = append(parts, fmt.Sprintf("%d routes (legs %s)", len(chains), strings.Join(legs, ", ")))
	}
	stopped, rows := 0, r.Legs()
	for _, x := range rows {
		if x.Reading.Stopped() {
			stopped++
		}
	}
	if off := escape.Of(r).Escapes; len(off) > 0 && f != mapexport.CSV {
		parts = append(parts, escapesWords(off))
	}
	if stopped > 0 { // last, for where there is little room the end is kept
		parts = append(parts, fmt.Sprintf("%d of %s marked STOP, not to be walked", stopped, CountOf(len(rows), "leg")))
	}
	if parts == nil {
		return ""
	}
	return ": " + strings.Join(parts, "; ")
}

// escapesWords say how many escapes there are, and how many of them are drafts.
func escapesWords(off []escape.Escape) string {
	drafts := 0
	for _, e := range off {
		if e.Draft {
			drafts++
		}
	}
	switch drafts {
	case 0:
		return CountOf(len(off), "escape")
	case len(off):
		return CountOf(drafts, "DRAFT escape")
	}
	return fmt.Sprintf("%s, %d of them DRAFT", CountOf(len(off), "escape"), drafts)
}

// CountOf writes a number of things, such as "1 leg" or "3 legs".
func CountOf(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// importedWords say what an import added from a file.
func importedWords(r session.ImportReport, file string) string {
	var parts []string
	for _, c := range []struct {
		n     int
		thing string
	}{{r.Marks, "mark"}, {r.Legs, "leg"}, {r.Tracks, "track"}, {r.Hazards, "hazard"}, {r.Havens, "haven"}, {r.Lines, "line"}, {r.Areas, "area"}} {
		if c.n > 0 {
			parts = append(parts, CountOf(c.n, c.thing))
		}
	}
	text := "nothing"
	if n := len(parts); n > 0 {
		text = strings.Join(parts[:n-1], ", ")
		if n > 1 {
			text += " and "
		}
		text += parts[n-1]
	}
	text = "Imported " + text + " from " + file
	switch {
	case r.Known > 0 && len(parts) == 0:
		text += fmt.Sprintf("; %d already in the plan", r.Known)
	case r.Known > 0:
		text += fmt.Sprintf(" (%d more already in the plan)", r.Known)
	}
	if r.LeftOut > 0 {
		text += "; " + CountOf(r.LeftOut, "shape") + " left out: too few points, or an outline that crosses itself"
	}
	if r.Crossings > 0 {
		text += "; " + CountOf(r.Crossings, "crossing") + " of water taken from the file: check the map"
	}
	if r.Escapes > 0 {
		text += "; " + CountOf(r.Escapes, "escape") + " left out: escapes cannot be imported, only drawn"
	}
	return text + "."
}
