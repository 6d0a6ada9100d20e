package opening

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"math"
	"path/filepath"
	"strings"

	"legwright/app/plan"
	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// Picture is a picture that the sheet shows. The desk owns its pyramid and closes it.
type Picture struct {
	Path    string
	Page    plan.Page // zero for a file that holds a single picture
	SHA256  string    // of the file, in hexadecimal digits; "" of a preview
	Header  scan.Header
	Pyramid *pyramid.Pyramid
	Copy    bool // from the store, because the file cannot be read now

	mark   [32]byte // of the file when it was opened; see scan.Mark
	key    [32]byte // by which the store knows the picture
	stored bool     // it comes from the store
}

// Name is the name of the picture's file.
func (p *Picture) Name() string { return Name(p.Path) }

// is reports whether this is the picture that a sheet was made on.
func (p *Picture) is(s plan.Sheet) bool {
	return p != nil && p.SHA256 != "" && p.SHA256 == s.SHA256 && p.Page == s.Page
}

// hashed gives the picture the hash of its file.
func (p *Picture) hashed(sum [32]byte) {
	p.SHA256, p.key = hex.EncodeToString(sum[:]), pageKey(sum, p.Page)
}

// Name is what a picture is called in sentences: the name of its file.
func Name(path string) string {
	return filepath.Base(strings.TrimPrefix(path, plan.EmbeddedPrefix))
}

// PageOf returns the page of a document that a header speaks of, zero for a file
// that holds a single picture.
func PageOf(h scan.Header) plan.Page {
	if h.Pages <= 1 && h.PageDPI == 0 {
		return plan.Page{}
	}
	return plan.Page{Number: h.Page, DPI: h.PageDPI}
}

// pageKey is the hash by which a page is stored: that of its file, its number and
// its resolution.
func pageKey(file [32]byte, p plan.Page) [32]byte {
	if p == (plan.Page{}) {
		return file
	}
	text := append(file[:], "page"...)
	text = binary.LittleEndian.AppendUint64(text, uint64(p.Number))
	return sha256.Sum256(binary.LittleEndian.AppendUint64(text, math.Float64bits(p.DPI)))
}

// sheetKey is the key of the picture that a sheet was made on, and whether the
// sheet names one.
func sheetKey(s plan.Sheet) (key [32]byte, ok bool) {
	raw, err := hex.DecodeString(s.SHA256)
	if err != nil || len(raw) != sha256.Size {
		return key, false
	}
	return pageKey([32]byte(raw), s.Page), true
}

// isDocument reports by its name that a file is drawn from pages.
func isDocument(path string) bool { return strings.EqualFold(filepath.Ext(path), ".pdf") }
