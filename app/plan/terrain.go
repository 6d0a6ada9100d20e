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

	// Of a file that was cut, around a plan, out of a larger one: SHA-256 and grid of that one, "" for
	// a whole file. Around the plan both give the same heights.
	CutFrom     string
	CutFromCode geodesy.Code
}

// Origin returns SHA-256 and grid of the file that the heights come from: of the larger one if this
// is cut out of one.
func (t Terrain) Origin() (sha256 string, code geodesy.Code) {
	if t.CutFrom != "" {
		return t.CutFrom, t.CutFromCode
	}
	return t.SHA256, t.Code
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
	case t.CutFrom != "" && !isHex64(t.CutFrom), t.CutFrom == "" && t.CutFromCode != "":
		return "the SHA-256 of the file that it was cut from is not 64 hexadecimal digits"
	}
	for _, code := range []geodesy.Code{t.Code, t.CutFromCode} {
		if _, err := geodesy.Lookup(code); code != "" && err != nil {
			return err.Error()
		}
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
		return fmt.Sprintf("its %s is %g m, but must be between 0 and %d", what, c.M, mostRiseM)
	}
	return ""
}
