package files

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"legwright/app/plan"
	"legwright/app/ui/jobs"
	"legwright/canvas/pyramid"
	"legwright/mapio/rectify"
)

// SheetPictures reads the pictures of the plan's sheets beside the window, as they were when the
// plan was made. It belongs to one goroutine after SheetPictures made it; Close it.
type SheetPictures struct {
	needs    Needs
	shown    plan.ID          // the sheet whose picture is open
	tiles    *pyramid.Pyramid // of it, nil where it is not there as a whole
	withheld map[string]bool
	opened   []*pyramid.Pyramid
}

// SheetPictures prepares the reading of pictures. Call it on the main thread.
func (r *Room) SheetPictures() *SheetPictures {
	n := r.Saver.Needs
	p := &SheetPictures{needs: n, withheld: map[string]bool{}}
	if tiles := n.Desk.Pyramid(); tiles != nil && tiles.Ready(0) {
		sheet, _ := n.Session.Sheet()
		p.shown, p.tiles = sheet.ID, tiles
	}
	for _, s := range n.Session.Plan().Sheets {
		p.withheld[s.Picture] = !s.Embedded() && n.Desk.Withheld(s.Picture)
	}
	return p
}

// Open returns what cuts rectangles from the picture of a sheet, and whether it has no colours.
func (p *SheetPictures) Open(ctx context.Context, sheet plan.Sheet) (cut rectify.Cut, grey bool, err error) {
	switch {
	case p.tiles != nil && sheet.ID == p.shown:
		return cutOf(p.tiles), p.tiles.Grey(), nil
	case p.withheld[sheet.Picture]:
		return nil, false, fmt.Errorf("%s is outside the plan's folder and was not opened: first show the sheet with this picture and agree to open it", pictureName(sheet.Picture))
	}
	kept, whole, err := p.needs.Desk.Source().Read(ctx, sheet)
	switch {
	case err != nil:
		return nil, false, err
	case kept != nil:
		p.opened = append(p.opened, kept)
		return cutOf(kept), kept.Grey(), nil
	}
	return rectify.CutOf(whole), rectify.GreyOf(whole), nil
}

// Close closes what Open opened.
func (p *SheetPictures) Close() {
	for _, o := range p.opened {
		o.Close()
	}
	p.opened = nil
}

// SheetFiles lists the files of the pictures of the plan's sheets that may be touched.
func (r *Room) SheetFiles() []string { return r.Saver.sheetFiles() }

func (n Needs) sheetFiles() (list []string) {
	for _, s := range n.Session.Plan().Sheets {
		if !s.Embedded() && !n.Desk.Withheld(s.Picture) {
			list = append(list, s.Picture)
		}
	}
	return list
}

// NoPicture returns an error if a file is one of the pictures.
func NoPicture(path string, pictures []string) error {
	there, err := os.Stat(path)
	for _, p := range pictures {
		info, failed := os.Stat(p)
		if err == nil && failed == nil && os.SameFile(there, info) {
			return fmt.Errorf("%s is the picture of a sheet of this plan: choose another file name", filepath.Base(path))
		}
	}
	return nil
}

// AddExport has Leave ask about the job of a slot, whose file is lost if the program ends.
func (r *Room) AddExport(slot *jobs.Slot) { r.leaving.exports = append(r.leaving.exports, slot) }

// AskReadOnly asks whether to overwrite a file that err calls read-only, and shows every other
// error under a title.
func (r *Room) AskReadOnly(title string, err error, overwrite func()) {
	r.Saver.askReadOnly(title, err, overwrite)
}
