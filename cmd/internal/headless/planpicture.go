package headless

import (
	"context"
	"encoding/hex"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/mapio/card"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
	"legwright/mapio/rectify"
	"legwright/mapio/scan"
)

// planPicture opens the picture of a plan's sheet, which must be as it was when the plan was
// made: inside the plan's folder only there, whatever links lead out of it.
func planPicture(ctx context.Context, sheet plan.Sheet, reach planfile.Reach) (card.Picture, error) {
	if slices.Contains(reach.Ask, sheet.Picture) {
		return card.Picture{}, errors.New("its picture is outside the plan's folder, so it was not opened: first open the plan in the window and agree to open the picture, or print with --no-map")
	}
	fsys, name := pictureIn(sheet.Picture, reach)
	pic, err := scan.Open(ctx, fsys, name, scan.Options{Page: sheet.Page.Number, DPI: sheet.Page.DPI})
	if err != nil {
		return card.Picture{}, err
	}
	if hex.EncodeToString(pic.SHA256[:]) != sheet.SHA256 || pic.Header.Width != sheet.Width || pic.Header.Height != sheet.Height {
		return card.Picture{}, errors.New("its picture has changed since the plan was made; open it again in the window")
	}
	return card.Picture{Cut: rectify.CutOf(pic.Image), Grey: rectify.GreyOf(pic.Image)}, nil
}

// pictureIn is where a picture lies: the demo's in the program.
func pictureIn(path string, reach planfile.Reach) (fs.FS, string) {
	if name, ok := strings.CutPrefix(path, plan.EmbeddedPrefix); ok {
		data := map[string][]byte{demo.ScanName: demo.Scan(), demo.SheetName: demo.Sheet()}[name]
		return openfile.InMemory(name, data, time.Time{}), name
	}
	if rel, err := filepath.Rel(reach.Folder, path); err == nil && reach.Inside[path] {
		return openfile.Inside(reach.Folder), filepath.ToSlash(rel)
	}
	return openfile.Picked(path)
}
