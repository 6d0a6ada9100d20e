package overlay

import (
	"image"
	"image/color"
	"strings"

	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/canvas/view"
)

// Escape is an escape as drawn. Make it with NewEscape.
type Escape struct {
	ID       plan.ID
	Ends     []view.PicPt // its start, then the end of each leg
	Label    string       // may be empty
	Selected bool
	Stopped  bool // a draft, or one that nobody may walk: drawn with short dashes

	way   []view.PicPt
	bound view.Rect
}

// NewEscape prepares an escape for drawing. ways has a way for each leg, from end to end;
// nil is a straight leg. It keeps both lists.
func NewEscape(id plan.ID, ends []view.PicPt, ways [][]view.PicPt, label string, stopped bool) Escape {
	way := []view.PicPt{ends[0]}
	for i, end := range ends[1:] {
		if i < len(ways) {
			way = append(way, ways[i]...)
		}
		way = append(way, end)
	}
	return Escape{ID: id, Ends: ends, Label: label, Stopped: stopped, way: way, bound: view.RectOf(way...)}
}

// Slip is where a usual slip with the compass leads from the start of a leg.
type Slip struct {
	From, To view.PicPt
	Text     string
}

// escapes are those whose ends all lie on the sheet. A stretch along a drawn line follows
// that line.
func (b *builder) escapes() {
	for _, e := range b.p.Escapes {
		var list []plan.Position
		for _, end := range e.Ends() {
			list = append(list, b.at.Of(end))
		}
		ends, ok := b.shapePoints(list)
		if !ok {
			continue
		}
		judged, _ := escape.Judged{Escapes: b.o.Escapes}.ByID(e.ID)
		ways := make([][]view.PicPt, len(e.Legs))
		for i, l := range judged.Legs {
			if i < len(e.Legs) && e.Legs[i].Along != "" && len(l.Way) > 2 {
				ways[i] = b.placedAll(l.Way[1 : len(l.Way)-1])
			}
		}
		out := NewEscape(e.ID, ends, ways, "", judged.Stopped())
		if out.Selected = e.ID == b.sel.ID; b.o.Labels {
			out.Label = escapeLabel(judged)
		}
		b.out.Escapes = append(b.out.Escapes, out)
	}
}

// placedAll are the grid's positions that lie on the sheet.
func (b *builder) placedAll(list []geodesy.Grid) (out []view.PicPt) {
	if b.c == nil {
		return nil
	}
	for _, g := range list {
		if at, ok := b.placed(g); ok {
			out = append(out, at)
		}
	}
	return out
}

// escapeLabel is what stands along an escape: "DRAFT E03-1 to Shieling". Another stop has
// its mark in front.
func escapeLabel(e escape.Escape) string {
	words := []string{e.Name, "to " + shortName(e.To)}
	switch {
	case e.Draft:
		words = append([]string{"DRAFT"}, words...)
	case e.Stopped():
		words = append([]string{"!"}, words...)
	}
	return strings.Join(words, " ")
}

func escapePaths(s *Scene, yield func(Path)) {
	for _, e := range s.Escapes {
		yield(Path{ID: e.ID, Points: e.Ends})
	}
}

// escapes draws the escapes, the chosen ones last.
func (d *drawing) escapes(s *strip) {
	for _, chosen := range []bool{false, true} {
		for i := range d.scene.Escapes {
			e := &d.scene.Escapes[i]
			if e.Selected != chosen || !d.meets(e.bound, s) {
				continue
			}
			k := pick(e.Stopped, escapeStopped, escapeLine)
			if chosen {
				k = pick(e.Stopped, escapeChosenStopped, escapeChosen)
			}
			d.polyway(s, k, d.onScreen(e.way), d.p.table[k].dash)
			if chosen && !d.scene.Faint {
				d.vertices(s, d.onScreen(e.Ends[1:]))
			}
		}
	}
}

func (d *drawing) escapeTexts(chosen bool) {
	for _, e := range d.scene.Escapes {
		if e.Selected != chosen || e.Label == "" {
			continue
		}
		d.escapeText(e.Label, d.onScreen(e.way), pick(chosen, vermillion, black))
	}
}

// escapeText writes along a part of an escape that is seen, or else beside one of its points
// there, the last first; without enough room, shorter, and then anywhere near it: everybody must
// see that it is a draft.
func (d *drawing) escapeText(label string, way []view.ScreenPt, ink color.NRGBA) {
	short, _, _ := strings.Cut(label, " to ")
	order := byLength(way)
	order = order[:min(len(order), mostPieces)]
	step := 1 + len(way)/mostPieces
	for _, text := range []string{label, short} {
		for _, i := range order {
			if d.alongIn(d.seen, text, way[i-1], way[i], ink, 0) {
				return
			}
		}
		for i := len(way) - 1; i >= 0; i -= step {
			at := way[i]
			if image.Pt(int(at.X), int(at.Y)).In(d.seen) && d.beside(text, legSize, true, ink, at, 8) {
				return
			}
		}
	}
	d.escapeNear(short, way, ink)
}

// escapeNear writes near an escape, the nearest first, where nothing stands yet.
func (d *drawing) escapeNear(text string, way []view.ScreenPt, ink color.NRGBA) {
	for _, off := range []float64{8, 22, 40, 60} {
		for i := len(way) - 1; i > 0; i -= 1 + len(way)/mostPieces {
			for _, f := range []float64{0.5, 0.25, 0.75} {
				at := way[i].Add(f*(way[i-1].X-way[i].X), f*(way[i-1].Y-way[i].Y))
				if image.Pt(int(at.X), int(at.Y)).In(d.seen) && d.beside(text, legSize, true, ink, at, off) {
					return
				}
			}
		}
	}
}

// mostPieces bounds where room is looked for: a line may have thousands of points.
const mostPieces = 40

// slips draws where slips lead, beneath the routes.
func (d *drawing) slips(s *strip) {
	for _, w := range d.scene.Slips {
		d.polyway(s, slipLine, []view.ScreenPt{d.v.ToScreen(w.From), d.v.ToScreen(w.To)}, d.p.table[slipLine].dash)
	}
}

// slipTexts names them at their ends.
func (d *drawing) slipTexts() {
	for _, w := range d.scene.Slips {
		d.beside(w.Text, controlSize, true, slipInk(), d.v.ToScreen(w.To), 8)
	}
}

func slipInk() color.NRGBA { return vermillion }
