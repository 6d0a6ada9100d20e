package files

import (
	"fmt"
	"path/filepath"
	"strings"

	"legwright/app/ui/foot"
	"legwright/app/ui/opening"
)

// namesOf names files that were dropped together, with the verb: "a.png and 2 more
// were".
func namesOf(paths []string) string {
	if len(paths) == 1 {
		return filepath.Base(paths[0]) + " was"
	}
	return fmt.Sprintf("%s and %d more were", filepath.Base(paths[0]), len(paths)-1)
}

// restWords say what became of the files of a batch except the one that has just been
// opened, cancelled or refused; "" if there were no others.
func restWords(b opening.Batch) string {
	var out []string
	if len(b.Opened) > 0 {
		out = append(out, namesOf(b.Opened)+" opened.")
	}
	if len(b.Waiting) > 1 {
		out = append(out, namesOf(b.Waiting[1:])+" not opened. Drop again what you still want to open.")
	}
	if len(b.Left) > 0 {
		out = append(out, namesOf(b.Left)+" skipped. Only pictures can be opened together: drop any other file on its own.")
	}
	if len(b.Terrain) > 0 {
		out = append(out, namesOf(b.Terrain)+" not opened, because terrain is not a map. Once a sheet is calibrated, choose File → Open terrain…")
	}
	return strings.Join(out, " ")
}

// done ends the opening of a file that is not a picture: it says done, and what became of
// the files dropped together with it.
func (n Needs) done(done string) {
	b := n.Desk.EndBatch()
	rest := restWords(opening.Batch{Left: b.Left, Terrain: b.Terrain})
	n.Foot.Say(strings.TrimSpace(done + " " + rest))
	if rest != "" {
		n.Dialogs.Tell("Some files were not opened", done+"\n\n"+rest)
	}
}

// refuse says why a file that is not a picture was not opened, and what became of the
// files dropped together with it.
func (n Needs) refuse(title, path string, err error) {
	n.refuseWith(title, path, err, n.Desk.EndBatch())
}

// refuseWith is refuse for a file of a batch.
func (n Needs) refuseWith(title, path string, err error, batch opening.Batch) {
	rest := restWords(batch)
	if rest == "" {
		n.Dialogs.Refuse(title, err)
		return
	}
	text := foot.Sentence(err)
	if name := filepath.Base(path); !strings.Contains(text, name) {
		text = name + ": " + text
	}
	n.Foot.Fail(fmt.Errorf("%s %s", text, rest))
	n.Dialogs.Tell(title, text+"\n\n"+rest)
}

// cancelled says that a file was not opened because the person cancelled, and what
// became of the files dropped together with it.
func (n Needs) cancelled(done string) {
	n.Foot.Say(strings.TrimSpace(done + " " + restWords(n.Desk.EndBatch())))
}
