package planfile

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"path/filepath"
	"strings"

	"legwright/app/plan"
	"legwright/mapio/openfile"
)

// AbsPicture returns where the picture named in a plan file lies: its path
// joined to the plan's folder. Absolute, foreign and embedded names stay.
func AbsPicture(planPath, picture string) string {
	if picture == "" || strings.HasPrefix(picture, plan.EmbeddedPrefix) {
		return picture
	}
	name := filepath.FromSlash(picture)
	switch {
	case filepath.IsAbs(name):
		return filepath.Clean(name)
	case foreign(picture):
		return picture
	}
	return filepath.Join(folderOf(planPath), name)
}

// foreign reports whether a name is an address, such as http://host/x.png, or a path
// of another system, such as \\host\x.png or D:\x.png, and so no path within a
// folder.
func foreign(name string) bool {
	scheme, rest, has := strings.Cut(name, ":")
	return strings.HasPrefix(name, `\\`) ||
		has && scheme != "" && !strings.ContainsAny(scheme, `/\`) && strings.HasPrefix(strings.ReplaceAll(rest, `\`, "/"), "/")
}

// RelPicture returns the name by which a plan file knows a picture: its path
// relative to the plan's folder, with slashes. Where there is no such path, as
// between two drives, it stays absolute.
func RelPicture(planPath, picture string) string {
	if picture == "" || strings.HasPrefix(picture, plan.EmbeddedPrefix) || !filepath.IsAbs(picture) {
		return filepath.ToSlash(picture)
	}
	rel, err := filepath.Rel(folderOf(planPath), picture)
	if err != nil {
		return filepath.ToSlash(picture)
	}
	return filepath.ToSlash(rel)
}

func folderOf(planPath string) string {
	abs, err := filepath.Abs(planPath)
	if err != nil {
		abs = planPath
	}
	return filepath.Dir(abs)
}

// withPictures returns the plan with every picture's name passed through f.
func withPictures(p *plan.Plan, f func(string) string) *plan.Plan {
	q := *p
	q.Sheets = make([]plan.Sheet, len(p.Sheets))
	for i, s := range p.Sheets {
		s.Picture = f(s.Picture)
		q.Sheets[i] = s
	}
	return &q
}

// PictureStatus says what became of a sheet's picture.
type PictureStatus int

// What a check of a picture finds.
const (
	PictureFine       PictureStatus = iota // it is there and the same
	PictureMissing                         // it is not there: offer to find it
	PictureChanged                         // another content than when the plan was made: say so, ask
	PictureUnreadable                      // it is there but cannot be read
)

// String says it for people.
func (s PictureStatus) String() string {
	switch s {
	case PictureFine:
		return "the picture is there"
	case PictureMissing:
		return "the picture is missing"
	case PictureChanged:
		return "the picture has changed since the sheet was calibrated"
	}
	return "the picture cannot be read"
}

// CheckPicture looks for a sheet's picture and holds it against its SHA-256.
// path is where it was looked for. It reads the whole file: call it away from
// the window. A picture carried inside the program is always fine.
func CheckPicture(planPath string, s plan.Sheet) (status PictureStatus, path string, err error) {
	path = AbsPicture(planPath, s.Picture)
	if s.Embedded() {
		return PictureFine, path, nil
	}
	sum, err := HashPicture(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return PictureMissing, path, err
	case err != nil:
		return PictureUnreadable, path, err
	case s.SHA256 != "" && sum != s.SHA256:
		return PictureChanged, path, nil
	}
	return PictureFine, path, nil
}

// HashPicture returns the SHA-256 of a file as 64 hexadecimal digits.
func HashPicture(path string) (string, error) {
	f, err := openfile.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close() // read only: nothing to lose
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
