package files

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/jobs"
	"legwright/mapio/atomicfile"
	"legwright/mapio/gpx"
)

// Exchange exports and imports GPX.
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

// Export asks where the GPX goes and how it is written.
func (x *Exchange) Export() {
	if !x.Host.TakeTyping() {
		return
	}
	if p := x.Session.Plan(); len(p.Legs) == 0 && len(p.Marks) == 0 {
		x.Foot.Say("There is nothing to export yet: keep a leg or set a mark first.")
		return
	}
	limit := x.Dialogs.Select([]string{"30", "20", "10"}, func(t string) {
		if n, err := strconv.Atoi(t); err == nil {
			x.Settings.setNameLimit(n)
		}
	})
	limit.SetSelected(strconv.Itoa(x.Settings.nameLimit()))
	track := x.Dialogs.Check("Also export the route as a track", x.Settings.setTrack)
	track.SetChecked(x.Settings.track())
	x.Dialogs.SavePath(ask.Path{
		Title: "Export GPX", Verb: "Export", Start: x.saver.suggest(gpxEnding), Endings: []string{gpxEnding},
		Extra: container.NewVBox(
			container.NewHBox(widget.NewLabel("Cut names to"), limit, widget.NewLabel("letters (small receivers show 10)")),
			track),
		Done: func(path string) { x.write(path, false) },
	})
}

// write exports the plan's legs and marks beside the window. A read-only file is
// overwritten if over is true; otherwise the person is asked.
func (x *Exchange) write(path string, over bool) {
	if job, busy := x.writing.Now(); busy {
		x.Dialogs.Refuse("The GPX was not exported", fmt.Errorf("%s is not finished yet: try again in a moment", strings.ToLower(job.Title[:1])+job.Title[1:]))
		return
	}
	x.Session.Settle()
	p := x.Session.Plan()
	heights, _ := x.Session.Ground()
	o := gpx.Options{NameLimit: x.Settings.nameLimit(), Track: x.Settings.track(), Time: time.Now().UTC()}
	var out leg.Exported
	var off []escape.Exported
	x.writing.Start("Exporting "+filepath.Base(path), func(ctx context.Context, _ func(jobs.Progress)) (err error) {
		var text bytes.Buffer
		if out, err = leg.Export(p, heights); err == nil {
			off, err = escape.Export(p, heights)
		}
		if err == nil {
			err = gpx.Write(&text, gpx.FromLegs(out, off, p.Date), o)
		}
		if err == nil {
			err = ctx.Err()
		}
		if err == nil {
			err = atomicfile.WriteBytes(path, atomicfile.Options{ReadOnly: over}, text.Bytes())
		}
		return err
	}, func(err error) {
		if err != nil {
			x.askReadOnly("The GPX was not exported", err, func() { x.write(path, true) })
			return
		}
		x.Foot.Say(fmt.Sprintf("Exported %s%s. Check one bearing on the receiver against the map.", filepath.Base(path), exportedWords(out, off, x.Session.Judged().Legs())))
	})
}

// Exporting reports whether a file is being exported.
func (x *Exchange) Exporting() bool { _, on := x.writing.Now(); return on }

// exportedWords say of an export into which routes it fell, where there are several,
// how many legs carry a stop, and how many escapes are drafts.
func exportedWords(out leg.Exported, off []escape.Exported, rows []leg.Row) string {
	var parts []string
	if len(out.Routes) > 1 {
		var legs []string
		n := 0
		for _, r := range out.Routes {
			first := n + 1
			n += len(r) - 1
			if first == n {
				legs = append(legs, strconv.Itoa(n))
			} else {
				legs = append(legs, fmt.Sprintf("%d–%d", first, n))
			}
		}
		parts = append(parts, fmt.Sprintf("%d routes: legs %s", len(out.Routes), strings.Join(legs, ", ")))
	}
	stopped := 0
	for _, r := range rows {
		if r.Reading.Stopped() {
			stopped++
		}
	}
	if stopped > 0 {
		parts = append(parts, fmt.Sprintf("%d of %s marked STOP, do not walk on them", stopped, CountOf(len(rows), "leg")))
	}
	if len(off) > 0 {
		parts = append(parts, escapesWords(off))
	}
	if parts == nil {
		return ""
	}
	return ": " + strings.Join(parts, "; ")
}

// escapesWords say how many escapes there are, and how many of them are drafts.
func escapesWords(off []escape.Exported) string {
	drafts := 0
	for _, e := range off {
		if caution.Has(e.Cautions, caution.EscapeDraft) {
			drafts++
		}
	}
	if drafts == 0 {
		return CountOf(len(off), "escape")
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
		text += fmt.Sprintf(": all %d were in the plan already", r.Known)
	case r.Known > 0:
		text += fmt.Sprintf(" (%d more were in the plan already)", r.Known)
	}
	if r.LeftOut > 0 {
		text += "; " + CountOf(r.LeftOut, "shape") + " left out, with too few points or an outline that crosses itself"
	}
	if r.Escapes > 0 {
		text += "; " + CountOf(r.Escapes, "escape") + " left out: draw escapes in the plan"
	}
	return text + "."
}
