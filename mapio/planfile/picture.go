package planfile

import (
	"path/filepath"
	"slices"
	"strings"

	"legwright/app/plan"
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

// foreign reports whether a name cannot be a path in a folder: an address such as
// http://host/x.png, or a path of another system such as \\host\x.png or D:\x.png.
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

// withPictures returns the plan with the name of every picture and terrain file passed
// through f.
func withPictures(p *plan.Plan, f func(string) string) *plan.Plan {
	q := *p
	q.Sheets = make([]plan.Sheet, len(p.Sheets))
	for i, s := range p.Sheets {
		s.Picture = f(s.Picture)
		q.Sheets[i] = s
	}
	q.Terrain = slices.Clone(p.Terrain)
	for i := range q.Terrain {
		q.Terrain[i].Path = f(q.Terrain[i].Path)
	}
	return &q
}
