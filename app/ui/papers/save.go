package papers

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	"legwright/app/ui/ask"
	"legwright/app/ui/files"
	"legwright/app/ui/jobs"
	"legwright/mapio/atomicfile"
	"legwright/mapio/card"
)

// save asks where the paper goes.
func (p *preview) save() {
	if !p.ready() {
		return
	}
	m := p.made
	p.r.n.Dialogs.SavePath(ask.Path{
		Title: "Save the " + m.of.order.Form.Title() + " as PDF", Verb: "Save", Endings: []string{".pdf"},
		Start: filepath.Join(p.r.n.Files.Saver.Folder(), p.r.fileName(m)),
		Done:  func(path string) { p.r.write(path, m, false) },
	})
}

// fileName names the file of a paper after the plan's.
func (r *Room) fileName(m *made) string {
	stem := filepath.Base(r.n.Session.Path())
	if stem = strings.TrimSuffix(stem, filepath.Ext(stem)); stem == "" || r.n.Session.Path() == "" {
		stem = "plan"
	}
	return stem + "-" + strings.ReplaceAll(m.of.order.Form.Title(), " ", "-") + ".pdf"
}

// write writes a paper beside the window. A read-only file is overwritten if over is true;
// otherwise the person is asked.
func (r *Room) write(path string, m *made, over bool) {
	const title = "The PDF was not saved"
	if _, busy := r.saving.Now(); busy {
		r.n.Dialogs.Refuse(title, errors.New("another file is still being read or saved: try again in a moment"))
		return
	}
	pictures := r.n.Files.SheetFiles()
	r.saving.Start("Saving "+filepath.Base(path), func(context.Context, func(jobs.Progress)) error {
		if err := files.NoPicture(path, pictures); err != nil {
			return err
		}
		return atomicfile.WriteBytes(path, atomicfile.Options{ReadOnly: over, Private: m.of.order.Form == card.BaseForm}, m.pdf)
	}, func(err error) {
		if err != nil {
			r.n.Files.AskReadOnly(title, err, func() { r.write(path, m, true) })
			return
		}
		r.say(fmt.Sprintf("Saved %s. Each page says: %s.", filepath.Base(path), strings.Join(m.stops, " · ")))
	})
}

// openInViewer opens the paper in the system's viewer, from a file that the next paper replaces.
func (p *preview) openInViewer() {
	const title = "The viewer was not opened"
	r := p.r
	if _, busy := r.saving.Now(); busy || !p.ready() {
		return
	}
	m := p.made
	path := filepath.Join(r.own.path, r.fileName(m))
	r.saving.Start("Opening the viewer", func(context.Context, func(jobs.Progress)) error {
		r.own.empty()
		if err := r.own.make(); err != nil {
			return err
		}
		return atomicfile.WriteBytes(path, atomicfile.Options{Private: true}, m.pdf)
	}, func(err error) {
		if err == nil {
			err = r.n.Host.OpenURL(fileURL(path))
		}
		if err != nil {
			r.n.Dialogs.Refuse(title, fmt.Errorf("%w. Save the PDF, and open it yourself", err))
			return
		}
		r.say("Print at 100 %, not fitted to the paper, and measure the 100 mm lines on every page that has a map. The viewer shows a copy that is deleted when Legwright closes: to keep it, save the PDF.")
	})
}

// say says what was done, in the foot line and in the dialog that lies over it.
func (r *Room) say(text string) {
	r.n.Foot.Say(text)
	if r.open != nil {
		r.open.note = text
		r.open.tell()
	}
}

// fileURL is the address of a file.
func fileURL(path string) *url.URL {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") { // a drive comes first
		path = "/" + path
	}
	return &url.URL{Scheme: "file", Path: path}
}
