package tiff

import (
	"cmp"
	"fmt"
	"io"
	"slices"
)

// File is a TIFF whose directories have been read. It is immutable and may
// be used from several goroutines, if its reader may.
type File struct {
	in    input
	pages []*Page
}

// Open reads the directories of a TIFF of size bytes, and no pixels. A fault
// in a directory after the first ends the list of pages there. Errors wrap
// ErrNotTIFF, ErrTruncated, ErrCorrupt or the reader's own.
func Open(r io.ReaderAt, size int64) (*File, error) {
	f := &File{in: input{r: r, size: size}}
	first, err := f.in.header()
	if err != nil {
		return nil, err
	}
	w := walk{f: f, seen: map[int64]bool{}}
	if err := w.chain(first); err != nil && len(w.full)+len(w.reduced) == 0 {
		return nil, err
	}
	f.pages = w.pages()
	if len(f.pages) == 0 {
		return nil, fmt.Errorf("%w: it contains no picture, only masks; choose another file", ErrNotPicture)
	}
	return f, nil
}

// Pages gives the pages of full resolution in the order of the file, at least
// one, each with its reduced copies. Masks are left out.
func (f *File) Pages() []*Page { return f.pages }

// walk collects pages along the chain of directories.
type walk struct {
	f             *File
	seen          map[int64]bool
	entries       int // read so far
	full, reduced []*Page
}

// read reads a directory not seen before, nil for one to be passed over.
func (w *walk) read(at int64) (*directory, error) {
	if at == 0 || w.seen[at] || len(w.seen) >= maxDirectories || w.entries >= maxAllEntries {
		return nil, nil
	}
	w.seen[at] = true
	d, err := w.f.in.directory(at)
	if err != nil {
		return nil, err
	}
	w.entries += len(d.entries)
	return d, nil
}

// chain follows the directories until the last, the first fault, or one seen
// before.
func (w *walk) chain(at int64) error {
	if at == 0 {
		return corrupt("it has no directory")
	}
	for {
		d, err := w.read(at)
		if d == nil {
			return err
		}
		w.add(d)
		at = d.next
	}
}

// add files a directory as a full page, a reduced copy, or not at all.
func (w *walk) add(d *directory) {
	p := newPage(d)
	reduced, mask := kindOf(d)
	if mask {
		return
	}
	if reduced {
		if n := len(w.full); n > 0 {
			w.full[n-1].addOverview(p)
		} else {
			w.reduced = append(w.reduced, p)
		}
		return
	}
	w.full = append(w.full, p)
	subs, _ := d.whole(tagSubIFDs, maxDirectories)
	for _, at := range subs {
		w.sub(p, int64(min(at, 1<<62)))
	}
}

// sub attaches a directory named by a page if it is a reduced copy of it.
func (w *walk) sub(p *Page, at int64) {
	d, err := w.read(at)
	if d == nil || err != nil {
		return
	}
	if _, mask := kindOf(d); !mask {
		p.addOverview(newPage(d))
	}
}

// pages gives the full pages. Reduced ones that came before any belong to the
// first; without a full one the largest stands for it.
func (w *walk) pages() []*Page {
	if len(w.full) == 0 {
		slices.SortStableFunc(w.reduced, func(a, b *Page) int { return cmp.Compare(b.Width, a.Width) })
		if len(w.reduced) > 0 {
			w.full, w.reduced = w.reduced[:1], w.reduced[1:]
		}
	}
	for _, p := range w.reduced {
		w.full[0].addOverview(p)
	}
	return w.full
}

// kindOf reads NewSubfileType, or the older SubfileType.
func kindOf(d *directory) (reduced, mask bool) {
	kind := d.number(tagNewSubfileType, 0)
	if _, ok := d.entries[tagNewSubfileType]; !ok && d.number(tagSubfileType, 1) == 2 {
		kind = 1
	}
	return kind&1 != 0, kind&4 != 0 || d.number(tagPhotometric, -1) == photoMask
}
