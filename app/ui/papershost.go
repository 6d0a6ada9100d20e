package ui

import (
	"net/url"
	"os"
	"path/filepath"

	"legwright/app/ui/papers"
)

// papersHost is the window as the room of papers needs it.
type papersHost struct{ b *Bench }

// room makes the room.
func (h papersHost) room() *papers.Room {
	b := h.b
	folder := ""
	if dir, err := os.UserCacheDir(); err == nil {
		folder = filepath.Join(dir, "legwright", "papers")
	}
	kept := ""
	if dir, err := os.UserConfigDir(); err == nil {
		kept = filepath.Join(dir, "legwright", "people.json")
	}
	return papers.New(papers.Needs{
		Session: b.s, Foot: b.foot, Dialogs: b.dialogs, Files: b.files, Host: h, Later: b.program.later, Folder: folder, Kept: kept,
	})
}

// TakeTyping commits the typing that a field of the plan still holds.
func (h papersHost) TakeTyping() bool { return filesHost(h).TakeTyping() }

// OpenURL opens a file in the system's viewer.
func (h papersHost) OpenURL(u *url.URL) error { return h.b.program.app.OpenURL(u) }
