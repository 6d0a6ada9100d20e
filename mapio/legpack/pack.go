package legpack

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/planfile"
)

// Opener opens a picture or terrain file of a plan by the name that the plan has for it. It
// refuses what may not be opened.
type Opener func(name string) (fs.File, error)

// Packed says what a pack holds.
type Packed struct {
	Pictures, Terrain int
	Cut               int // terrain files that were cut
	Left              int // terrain files that do not reach the plan's surroundings
	Own               int // pictures and terrain files that come with the program, and are not packed
	Escapes           int // of the plan; their ticks no longer count if terrain is left out
}

// String says it for people.
func (p Packed) String() string {
	text := "the plan"
	switch {
	case p.Pictures > 0 && p.Terrain > 0:
		text += ", " + count(p.Pictures, "picture") + " and " + count(p.Terrain, "terrain file")
	case p.Pictures > 0:
		text += " and " + count(p.Pictures, "picture")
	case p.Terrain > 0:
		text += " and " + count(p.Terrain, "terrain file")
	}
	if p.Left > 0 {
		text += "; " + count(p.Left, "terrain file") + " left out, too far from the plan"
	}
	if p.Cut > 0 {
		text += fmt.Sprintf("; %s cut to 5 km around the plan", count(p.Cut, "terrain file"))
	}
	if p.Cut+p.Left > 0 {
		text += "; the packed plan has a different plan number"
	}
	if p.Left > 0 && p.Escapes > 0 {
		text += ", and its escapes are DRAFT until you tick them again"
	}
	switch {
	case p.Own == 1:
		text += "; 1 file comes with the program"
	case p.Own > 1:
		text += fmt.Sprintf("; %d files come with the program", p.Own)
	}
	return text
}

// count writes a number of things.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// Pack writes the plan of r with its pictures and terrain. The same plan gives the same bytes.
// Errors: a file that cannot be opened or has changed since the plan was made, the context's
// cause, the plan's *plan.Invalid, and those of the writer.
func Pack(ctx context.Context, w io.Writer, r *leg.Reader, open Opener) (Packed, error) {
	k := &packer{ctx: ctx, r: r, open: open, zip: zip.NewWriter(w), names: map[string]string{}}
	k.zip.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) { return flate.NewWriter(out, flate.DefaultCompression) })
	p, err := k.files(r.Plan())
	if err != nil {
		return Packed{}, err
	}
	var text bytes.Buffer
	if err := planfile.Encode(&text, p); err != nil {
		return Packed{}, err
	}
	out, err := k.zip.Create(planName)
	if err == nil {
		_, err = out.Write(text.Bytes())
	}
	if err == nil {
		err = k.zip.Close()
	}
	return k.said, err
}

// packer is a pack that is being written.
type packer struct {
	ctx   context.Context
	r     *leg.Reader
	open  Opener
	zip   *zip.Writer
	names map[string]string // in the pack, by the plan's own names
	said  Packed
}

// files writes pictures and terrain and returns the plan that names them as they lie in the
// pack.
func (k *packer) files(p *plan.Plan) (*plan.Plan, error) {
	k.said.Escapes = len(p.Escapes)
	for _, s := range p.Sheets {
		if s.Embedded() {
			k.said.Own++
		}
		if s.Picture == "" || s.Embedded() {
			continue
		}
		if strings.EqualFold(filepath.Ext(s.Picture), ".kml") {
			return nil, fmt.Errorf("%s only names a picture in another file, which cannot be packed: open the picture itself and calibrate it", filepath.Base(s.Picture))
		}
		name, err := k.whole(pictureDir, s.Picture, s.SHA256)
		if err != nil {
			return nil, err
		}
		s.Picture = name
		p = p.SetSheet(s)
	}
	for _, name := range k.names {
		if strings.HasPrefix(name, pictureDir) {
			k.said.Pictures++
		}
	}
	return k.heights(p)
}

// heights writes terrain and returns the plan that names it as it lies in the pack.
func (k *packer) heights(p *plan.Plan) (*plan.Plan, error) {
	var list []plan.Terrain
	for _, t := range p.Terrain {
		if t.Embedded() {
			k.said.Own++
			list = append(list, t)
			continue
		}
		packed, ok, err := k.terrain(t)
		if err != nil {
			return nil, err
		}
		if ok {
			list = append(list, packed)
			k.said.Terrain++
		}
	}
	return p.SetTerrain(list), nil
}

// whole writes a file as it is, once, and returns its name in the pack.
func (k *packer) whole(dir, name, sum string) (string, error) {
	if known, ok := k.names[name]; ok {
		return known, nil
	}
	f, err := k.open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	at := k.free(dir, filepath.Base(name))
	out, err := k.zip.CreateHeader(&zip.FileHeader{Name: at, Method: method(at)})
	if err != nil {
		return "", err
	}
	h := sha256.New()
	if _, err := io.Copy(io.MultiWriter(out, h), &cancelled{k.ctx, f}); err != nil {
		return "", err
	}
	if got := hex.EncodeToString(h.Sum(nil)); got != sum {
		return "", fmt.Errorf("%s has changed since you added it to the plan: open it again in the plan, then pack the plan", filepath.Base(name))
	}
	k.names[name] = at
	return at, nil
}

// method is how a file of that name is stored: most pictures are compressed already.
func method(name string) uint16 {
	if slices.Contains([]string{".png", ".jpg", ".jpeg", ".webp", ".pdf", ".kmz", ".zip"}, strings.ToLower(path.Ext(name))) {
		return zip.Store
	}
	return zip.Deflate
}

// free is a plain name in a folder of the pack that no other file has.
func (k *packer) free(dir, base string) string {
	base = plainBase(base)
	ext := path.Ext(base)
	name := dir + base
	for n := 2; k.taken(name); n++ {
		name = fmt.Sprintf("%s%s-%d%s", dir, strings.TrimSuffix(base, ext), n, ext)
	}
	return name
}

func (k *packer) taken(name string) bool {
	for _, x := range k.names {
		if folded(x) == folded(name) {
			return true
		}
	}
	return false
}

// plainBase makes of a file's name one that every system can have.
func plainBase(base string) string {
	base = strings.Map(func(r rune) rune {
		if !plainRune(r) {
			return '-'
		}
		return r
	}, base)
	if r := []rune(base); len(r) > mostName-8 {
		base = string(r[len(r)-(mostName-8):]) // the ending stays
	}
	base = strings.TrimRight(strings.TrimLeft(base, " ."), " .")
	if base == "" || !plain(base) {
		base = "file-" + base
	}
	return base
}

// cancelled ends a copy with its context.
type cancelled struct {
	ctx context.Context
	io.Reader
}

func (c *cancelled) Read(p []byte) (int, error) {
	if err := context.Cause(c.ctx); err != nil {
		return 0, err
	}
	return c.Reader.Read(p)
}

// add writes a file that was made for the pack.
func (k *packer) add(dir, base string, fill func(io.Writer) error) (name, sum string, err error) {
	name = k.free(dir, base)
	out, err := k.zip.Create(name)
	if err != nil {
		return "", "", err
	}
	h := sha256.New()
	if err := fill(io.MultiWriter(out, h)); err != nil {
		return "", "", err
	}
	k.names[fmt.Sprintf("cut %d", len(k.names))] = name
	return name, hex.EncodeToString(h.Sum(nil)), nil
}

// contains reports whether a list has a name, whatever its case.
func contains(list []string, name string) bool {
	return slices.ContainsFunc(list, func(x string) bool { return folded(x) == folded(name) })
}
