package papers

import (
	"errors"
	"net/url"

	"fyne.io/fyne/v2"

	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/files"
	"legwright/app/ui/foot"
	"legwright/app/ui/jobs"
	"legwright/mapio/pdf"
)

// Host is the window around the room.
type Host interface {
	// TakeTyping hands over what is being typed into a field of the plan, and reports false
	// if the field refuses it.
	TakeTyping() bool
	// OpenURL opens a file in the system's viewer.
	OpenURL(*url.URL) error
}

// Needs is what the room works with.
type Needs struct {
	Session *session.Session
	Foot    *foot.Line
	Dialogs *ask.Dialogs
	Files   *files.Room
	Host    Host
	Later   func(func()) // runs a function on the main thread
	Folder  string       // where each run of the program has a folder for the viewer's file; made when needed
	Kept    string       // file of the people, where the person keeps them; "" for none
	Draw    Draw         // nil is PDFium
}

// Room is the room. Its methods belong to the main thread.
type Room struct {
	n         Needs
	own       *ownFolder
	making    *jobs.Slot
	saving    *jobs.Slot
	open      *preview // nil while it is closed
	home      *home    // the party; nil until somebody names it
	concealed bool
}

// New makes the room.
func New(n Needs) *Room {
	if n.Draw == nil {
		n.Draw = byPDFium(pdf.NewEngine(pdf.DefaultFolder()))
	}
	r := &Room{n: n, own: newOwnFolder(n.Folder), making: jobs.NewSlot(n.Later), saving: jobs.NewSlot(n.Later)}
	r.making.OnChange(func() {
		if r.open != nil {
			r.open.tell()
		}
	})
	n.Files.AddExport(r.saving)
	n.Session.OnChange(func(c session.Change) {
		if c.What.Has(session.PlanReplaced) {
			r.home = nil
		}
		if r.open != nil && !c.Passing() {
			r.open.follow()
		}
	})
	return r
}

// Conceal hides the figures of lines from a group, or shows them again: pages are not shown
// meanwhile.
func (r *Room) Conceal(on bool) {
	r.concealed = on
	if on && r.open != nil {
		r.open.q.Close()
	}
}

// Show shows the papers of the plan, to be looked at, saved and printed.
func (r *Room) Show() {
	switch {
	case r.open != nil || !r.n.Host.TakeTyping():
	case r.concealed:
		r.n.Foot.Fail(errors.New("the papers would show the figures that are hidden from the group: first press H in the Teach panel to show them"))
	default:
		r.n.Session.Settle()
		r.open = newPreview(r)
		r.open.follow()
	}
}

// closed forgets the preview and what is being made for it.
func (r *Room) closed() {
	r.open = nil
	r.making.Cancel()
}

// Close deletes the file that was made for the viewer: a base sheet names people.
func (r *Room) Close() { r.own.delete() }

// Failed returns why no page is shown, or nil.
func (r *Room) Failed() error {
	if r.open == nil {
		return nil
	}
	return r.open.err
}

// Shown tells which page is shown of how many, 0 of 0 for none.
func (r *Room) Shown() (page, of int) {
	if r.open == nil || r.open.drawn == nil {
		return 0, 0
	}
	return r.open.drawn.page, r.open.made.pages
}

// Bytes are the PDF whose page is shown, nil for none.
func (r *Room) Bytes() []byte {
	if r.open == nil || !r.open.ready() {
		return nil
	}
	return r.open.made.pdf
}

// size of the dialog, as large as the window has room.
var size = fyne.NewSize(1500, 1100)
