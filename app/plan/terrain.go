package plan

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"legwright/app/geodesy"
)

// MaxTerrain is how many terrain files a plan may name.
const MaxTerrain = 64

// Terrain is a file with heights of the ground. It is named as a sheet names its picture;
// the heights themselves are no part of a plan.
type Terrain struct {
	Path   string // absolute or relative to the plan's file, or EmbeddedPrefix with a name
	SHA256 string // of the file, in lower-case hexadecimal digits
	Feet   bool   // heights in the file are in feet, by the word of the person who opened it
	Code   geodesy.Code
}

// Embedded reports whether the file is in the program itself.
func (t Terrain) Embedded() bool { return strings.HasPrefix(t.Path, EmbeddedPrefix) }

// SetTerrain returns the plan with these terrain files.
func (p *Plan) SetTerrain(files []Terrain) *Plan {
	return p.with(func(q *Plan) { q.Terrain = slices.Clone(files) })
}

func (p *Plan) validTerrain() error {
	if n := len(p.Terrain); n > MaxTerrain {
		return tooMany("terrain files", n, MaxTerrain)
	}
	for i, t := range p.Terrain {
		if err := firstOf(called("terrain file", i, ""), t.bad()); err != nil {
			return err
		}
		if slices.ContainsFunc(p.Terrain[:i], func(x Terrain) bool { return x.Path == t.Path }) {
			return &Invalid{called("terrain file", i, ""), "it is named twice"}
		}
	}
	return nil
}

func (t Terrain) bad() string {
	switch {
	case t.Path == "" || len(t.Path) > 4096 || !utf8.ValidString(t.Path):
		return "its path is empty, longer than 4096 bytes or not text"
	case !isHex64(t.SHA256):
		return "its SHA-256 is not 64 hexadecimal digits"
	}
	if _, err := geodesy.Lookup(t.Code); t.Code != "" && err != nil {
		return err.Error()
	}
	return ""
}

// mostRiseM bounds what a person may count on one leg, metres.
const mostRiseM = 9000

// Counted is a height that a person counted on the map, in metres; the zero value says that nobody
// did.
type Counted struct {
	Known bool
	M     float64
}

// Count returns a height that was counted.
func Count(m float64) Counted { return Counted{true, m} }

func (c Counted) bad(what string) string {
	if !(c.M >= 0 && c.M <= mostRiseM) || !c.Known && c.M != 0 { // NaN fails too
		return fmt.Sprintf("its %s is %g m, and must lie between 0 and %d", what, c.M, mostRiseM)
	}
	return ""
}
