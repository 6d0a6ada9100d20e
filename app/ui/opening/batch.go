package opening

import (
	"path/filepath"
	"slices"
	"strings"
)

// Endings returns the endings of files that are pictures.
func Endings() []string {
	return []string{".png", ".jpg", ".jpeg", ".tif", ".tiff", ".webp", ".bmp", ".gif", ".pdf", ".kml", ".kmz"}
}

// IsPicture reports by its name that a file is a picture.
func IsPicture(path string) bool {
	return slices.Contains(Endings(), strings.ToLower(filepath.Ext(path)))
}

// Batch is what became of files that were dropped, or named, together. It is the
// zero Batch for a single file.
type Batch struct {
	Waiting []string // not opened yet; the first is being opened
	Opened  []string
	Left    []string // left out: only pictures are opened together
	Terrain []string // left out: heights, which are read once a sheet is calibrated
}

// Several reports whether there is more than one file.
func (b Batch) Several() bool { return len(b.Waiting)+len(b.Opened)+len(b.Left)+len(b.Terrain) > 1 }

// Drop opens the first of some files, and if all are pictures the others as further
// sheets of its plan. If the first is not a picture the caller must open it: then ok is
// true, and at its end the caller takes EndBatch. Terrain that was dropped with them is
// left out.
func (d *Desk) Drop(paths, terrain []string) (first string, ok bool) {
	d.EndBatch()
	if len(paths) == 0 {
		return "", false
	}
	all := make([]string, len(paths))
	for i, p := range paths {
		all[i] = absolute(p)
	}
	if slices.ContainsFunc(all, func(p string) bool { return !IsPicture(p) }) {
		d.m.past.batch = Batch{Waiting: all[:1], Left: all[1:]}
	} else {
		d.m.past.batch = Batch{Waiting: all}
	}
	d.m.past.batch.Terrain = terrain
	if !IsPicture(all[0]) {
		return all[0], true
	}
	d.m.open(all[0])
	return "", false
}

// EndBatch forgets the files that were dropped together and returns what became of
// them.
func (d *Desk) EndBatch() Batch { return d.m.past.end() }

func (p *past) end() (b Batch) {
	b, p.batch = p.batch, b
	return b
}

// rest ends the batch whose file is opened, cancelled or refused, and returns what
// became of the others. It is empty if the file belongs to none.
func (p *past) rest(path string) (b Batch) {
	if last := len(p.batch.Opened) - 1; p.batch.next() == path || p.batch.next() == "" && last >= 0 && p.batch.Opened[last] == path {
		return p.end()
	}
	return b
}

// next is the file that is being opened, or "".
func (b Batch) next() string {
	if len(b.Waiting) == 0 {
		return ""
	}
	return b.Waiting[0]
}

// opened notes that a file is there, and reports whether others wait.
func (b *Batch) opened(path string) (others bool) {
	if b.next() != path {
		return false
	}
	b.Waiting, b.Opened = b.Waiting[1:], append(b.Opened, path)
	return len(b.Waiting) > 0
}

// absolute is a path that holds wherever the program stands.
func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil && !strings.HasPrefix(path, DemoPicture) {
		return abs
	}
	return path
}
