package planfile

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"legwright/app/plan"
	"legwright/mapio/atomicfile"
	"legwright/mapio/openfile"
)

// Known remembers across starts which pictures outside its folder a plan may open
// without a question. Somebody else's plan may name any file of this machine, or a
// file on another machine, which would see that the plan was opened.
//
// It remembers plans that were saved here, by path and content together: nobody can
// make another plan with the same hash, and the same plan in another folder, where
// a relative path leads elsewhere, is another entry. It also remembers each picture
// that the person agreed to, for one path of its plan. It keeps only hashes: a list
// of paths would show where somebody has been.
type Known struct {
	file string // "" without a settings folder: then every start asks
}

// Limits of the file: each entry is a line of 64 hexadecimal digits.
const (
	maxKnown  = 4000 * 65 // bytes above which the older half is deleted
	keepKnown = maxKnown / 2 / 65 * 65
)

// OpenKnown returns the memory in the user's settings folder.
func OpenKnown() Known {
	dir, err := os.UserConfigDir()
	if err != nil {
		return Known{}
	}
	return KnownIn(filepath.Join(dir, "legwright"))
}

// KnownIn returns the memory in dir, which is made when it is first needed.
func KnownIn(dir string) Known { return Known{filepath.Join(dir, "known-plans")} }

// Saved remembers that a plan was saved here.
func (k Known) Saved(path string, s plan.Stamp) error {
	return k.add(entryOf("saved", place(path), hex.EncodeToString(s.SHA256[:])))
}

// Agreed remembers that the person agreed to a picture of the plan at path.
func (k Known) Agreed(path, picture string) error {
	return k.add(entryOf("agreed", place(path), picture))
}

// entryOf is the line for some texts without zero bytes.
func entryOf(texts ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(texts, "\x00")))
	return hex.EncodeToString(sum[:]) + "\n"
}

func (k Known) has(entry string) bool { return bytes.Contains(k.read(), []byte(entry)) }

// read returns all entries, or none if they cannot be read.
func (k Known) read() []byte {
	f, err := openfile.Open(k.file)
	if err != nil {
		return nil
	}
	defer f.Close() // read only: nothing to lose
	text, err := io.ReadAll(io.LimitReader(f, 2*maxKnown))
	if err != nil {
		return nil
	}
	return text
}

// add appends an entry. If two benches write at the same time one entry may be
// lost, and the question is asked once more.
func (k Known) add(entry string) error {
	if k.file == "" {
		return errors.New("there is no folder for settings")
	}
	text := k.read()
	if bytes.Contains(text, []byte(entry)) {
		return nil
	}
	if len(text) > maxKnown {
		text = text[len(text)-keepKnown:]
	}
	if err := os.MkdirAll(filepath.Dir(k.file), 0o700); err != nil {
		return err
	}
	return atomicfile.WriteBytes(k.file, atomicfile.Options{}, append(text, entry...))
}

// Reach says which files of a plan may open, pictures and terrain, and from which folder.
type Reach struct {
	Folder string          // the plan's
	Inside map[string]bool // files that open only inside Folder
	Ask    []string        // files outside it, not to be touched before the person agrees
}

// Reach sorts the files of a plan read from path. It touches no file outside the
// plan's folder.
func (k Known) Reach(path string, s plan.Stamp, p *plan.Plan) Reach {
	path = place(path)
	r := Reach{Folder: filepath.Dir(path), Inside: map[string]bool{}}
	saved := k.has(entryOf("saved", path, hex.EncodeToString(s.SHA256[:])))
	for _, name := range filesOf(p) {
		switch {
		case !leaves(r.Folder, name):
			r.Inside[name] = true
		case !saved && !k.has(entryOf("agreed", path, name)):
			r.Ask = append(r.Ask, name)
		}
	}
	return r
}

// filesOf are the files that a plan names: pictures and terrain.
func filesOf(p *plan.Plan) []string {
	var names []string
	for _, s := range p.Sheets {
		if s.Picture != "" && !s.Embedded() {
			names = append(names, s.Picture)
		}
	}
	for _, t := range p.Terrain {
		if !t.Embedded() {
			names = append(names, t.Path)
		}
	}
	return names
}

// place is the absolute path of a plan's file behind any links, as in Store.Load.
func place(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	if real, err := atomicfile.Target(path); err == nil {
		path = real
	}
	return path
}

// leaves reports whether a picture's path, or a link in it, leads out of a folder.
func leaves(folder, picture string) bool {
	rel, err := filepath.Rel(folder, picture)
	if err != nil || !filepath.IsLocal(rel) {
		return true
	}
	_, err = fs.Stat(openfile.Inside(folder), filepath.ToSlash(rel))
	var outside *openfile.Outside
	return errors.As(err, &outside)
}
