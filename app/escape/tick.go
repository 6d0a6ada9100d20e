package escape

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/pace"
	"legwright/app/plan"
)

// fingerprint is that of what the ticks of a leg are given for: its way, the hazards and areas of
// ground near it, the terrain, the over-steep slope and what calibrates the sheets. It is 32 hexadecimal digits.
func (j *judge) fingerprint(l Leg) string {
	w := sha256.New()
	fmt.Fprintf(w, "way %q %q\n", j.sys.Code(), l.Along)
	writeGrids(w, l.Way)
	for _, h := range j.p.Hazards {
		if !slices.ContainsFunc(l.Near, func(n leg.Near) bool { return n.Hazard == h.ID }) {
			continue
		}
		w.Write(j.written(h))
	}
	for _, a := range j.p.Areas {
		if slices.Contains(l.Areas, a.ID) && l.affected(a.Ground) {
			w.Write(j.writtenArea(a))
		}
	}
	w.Write(j.beneath())
	return hex.EncodeToString(w.Sum(nil)[:16])
}

// affected reports whether an area of that ground can affect the leg: on the compass rough ground and
// plantation, on a path plantation alone.
func (l *Leg) affected(g pace.Ground) bool {
	return g == pace.Plantation || g == pace.Rough && !l.path
}

// writtenArea is an area of ground as it goes into fingerprints.
func (j *judge) writtenArea(a plan.Area) []byte {
	var b bytes.Buffer
	points, _ := j.r.OnCommon(a.Points...) // it is near, so this was done before
	fmt.Fprintf(&b, "area %q\n", string(a.Ground))
	writeGrids(&b, points)
	return b.Bytes()
}

// beneath is the terrain, the over-steep slope and what calibrates the sheets as they go into fingerprints, made
// once: a sheet has hundreds of control points, and all legs lie on the same sheets.
func (j *judge) beneath() []byte {
	if j.under != nil {
		return j.under
	}
	var b bytes.Buffer
	for _, t := range j.p.Terrain {
		sum, code := t.Origin()
		fmt.Fprintf(&b, "terrain %q %v %q\n", sum, t.Feet, code)
	}
	if j.p.OverSteepDeg != 0 { // how low a crag must be not to show follows from it
		fmt.Fprintf(&b, "over-steep %d\n", j.p.OverSteepDeg)
	}
	for _, s := range j.p.Sheets {
		fmt.Fprintf(&b, "sheet %q %q %v %v %v %v %d %d %v %v\n", s.SHA256, s.Code, s.Medium, s.Focal, s.DPI, s.Page, s.Width, s.Height, s.WorldM, s.WorldPx)
		if s.World != nil {
			fmt.Fprintln(&b, *s.World)
		}
		for _, p := range s.Points {
			fmt.Fprintf(&b, "%+v\n", p)
		}
	}
	j.under = b.Bytes()
	return j.under
}

// written is a hazard as it goes into fingerprints, made once.
func (j *judge) written(h plan.Hazard) []byte {
	if text, ok := j.texts[h.ID]; ok {
		return text
	}
	var b bytes.Buffer
	points, _ := j.r.OnCommon(h.Points...) // it is near, so this was done before
	fmt.Fprintf(&b, "hazard %q %v %.3f %q\n", h.Kind, h.Closed, h.KeepM, h.Crosses)
	writeGrids(&b, points)
	j.texts[h.ID] = b.Bytes()
	return b.Bytes()
}

// writeGrids writes positions to the millimetre.
func writeGrids(w io.Writer, list []geodesy.Grid) {
	for _, g := range list {
		fmt.Fprintf(w, "%.3f %.3f\n", g.E, g.N)
	}
}
