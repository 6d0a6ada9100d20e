package sheetpanel

import (
	"context"
	"fmt"
	"image"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/calib/lattice"
	"legwright/app/plan"
	"legwright/app/ui/jobs"
	"legwright/app/ui/look"
	"legwright/app/ui/sheetview"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/canvas/view"
)

// mostIntersections is how many intersections become control points: more add nothing
// but waiting.
const mostIntersections = 240

// FoundGrid is the printed grid found in the picture, until it is used or
// discarded.
type FoundGrid struct {
	n      *Needs
	georef *georefCheck
	row    *fyne.Container // what can be done with it
	take   *widgets.Tool
	drop   *widgets.Tool
	do     gridActs

	work   *jobs.Slot       // looks for it
	found  *lattice.Lattice // all of it
	offer  *lattice.Lattice // the intersections that become control points
	drawn  overlay.Found    // how they are shown
	choice *widgets.Select  // of the side of a square, while it is asked
}

// gridActs are what the grid calls.
type gridActs struct{ changed, taken func() }

func newFoundGrid(n *Needs, georef *georefCheck, do gridActs) *FoundGrid {
	g := &FoundGrid{n: n, georef: georef, do: do, work: jobs.NewSlot(n.Later)}
	g.take = n.tool(look.IconConfirm, "Use the intersections", "Make the intersections of the printed grid the control points  (Return)", g.Take)
	g.drop = n.tool("", "Discard", "Discard the grid found  (Esc)", func() { g.Discard() })
	g.row = container.NewHBox(g.take, g.drop)
	g.work.OnChange(do.changed)
	return g
}

// show shows what can be done with the grid.
func (g *FoundGrid) show(sheet plan.Sheet, aiming bool) {
	show(g.row, !aiming && (g.searching() || g.found != nil))
	show(g.take, g.found != nil && !g.georef.placed(sheet) && len(g.names(g.found.On)) > 0)
	g.drop.SetText("Discard")
	if g.searching() {
		g.drop.SetText("Cancel")
	}
}

// Waits says whether there is a grid found, or the search for one, to discard.
func (g *FoundGrid) Waits() bool { return g.found != nil || g.searching() }

// Has says whether a grid was found and neither used nor discarded.
func (g *FoundGrid) Has() bool { return g.found != nil }

func (g *FoundGrid) searching() bool {
	_, on := g.work.Now()
	return on
}

func (g *FoundGrid) forget() {
	g.work.Cancel()
	g.found, g.offer, g.drawn, g.choice = nil, nil, overlay.Found{}, nil
}

// Find looks for the printed grid away from the window. What is found is shown, and
// waits to be used, compared with the file's position, or discarded.
func (g *FoundGrid) Find() {
	p := g.n.Pictures.Pyramid()
	switch {
	case p == nil:
		g.n.Foot.Say("Open the picture of a map first.")
		return
	case !p.Ready(0):
		g.n.Foot.Say("The picture is still being read: try again in a moment.")
		return
	}
	g.forget()
	g.n.Host.ShowPanel()
	g.n.Map.Focus() // so that Esc cancels
	g.n.Foot.Say("Looking for the printed grid…")
	var found *lattice.Lattice
	var none string
	g.work.Start("printed grid", func(ctx context.Context, tell func(jobs.Progress)) error {
		grey, k := lattice.Reduced(ctx, p.Size(), func(r image.Rectangle) image.Image { return p.Crop(r) })
		l, why, err := lattice.Find(ctx, grey, func(stage string, done float64) {
			tell(jobs.Progress{Stage: stage, Done: int64(100 * done), Total: 100})
		})
		if l != nil {
			found = l.Enlarged(float64(k))
		}
		none = why
		return err
	}, func(err error) {
		switch {
		case err != nil || g.n.Pictures.Pyramid() != p:
		case found != nil:
			g.Found(found)
		default:
			g.georef.refused(none)
			g.do.changed()
			g.n.Foot.Say("No printed grid was found: " + none + ".")
		}
	})
}

// Found lays the grid found over the picture, so that a person sees whether it
// is the printed one.
func (g *FoundGrid) Found(l *lattice.Lattice) {
	g.found, g.offer = l, l.Thinned(mostIntersections)
	g.drawn = overlay.FoundOf(l, g.offer)
	g.georef.compare(l)
	g.n.Foot.Say(fmt.Sprintf("Found a grid with %s: is this the grid printed on the map?", strings.TrimSuffix(g.offerWords(), ",")))
	g.do.changed()
}

// words say what is to be done about the search or what it found, "" where there is
// neither.
func (g *FoundGrid) words(sheet plan.Sheet) string {
	if job, on := g.work.Now(); on {
		if share, known := job.Progress.Share(); known {
			return fmt.Sprintf("Looking for the printed grid: %s, %.0f %%.", job.Progress.Stage, 100*share)
		}
		return "Looking for the printed grid: reading the picture."
	}
	const look = "Do the blue dashes lie on the printed lines? If not, discard the grid  (Esc). "
	switch {
	case g.found == nil:
		return ""
	case g.georef.placed(sheet):
		return g.georef.words(sheet)
	case len(g.names(g.found.On)) > 0:
		return look + "If so, use the intersections  (Return). " + g.seenWords()
	case g.found.Oblong:
		return look + "The cells are not square: they may be latitude and longitude. " +
			"If so, click one intersection and type its latitude and longitude from the margin, such as 56°10'N 6°20'W: the others follow."
	}
	return look + "If so, click one intersection and type its reference: the others follow. " + g.seenWords()
}

// seenWords count the intersections that are on offer by how clearly they were seen.
func (g *FoundGrid) seenWords() string {
	var n [3]int
	for _, c := range g.drawn.Intersections {
		n[c.Seen]++
	}
	text := fmt.Sprintf("%s: %d clear (closed rings)", g.offerWords(), n[overlay.WellSeen])
	if k := n[overlay.PartlySeen]; k > 0 {
		text += fmt.Sprintf(", %d partly hidden (broken rings)", k)
	}
	if k := n[overlay.FaintlySeen]; k > 0 {
		text += fmt.Sprintf(", %d faint (two strokes)", k)
	}
	return text + "."
}

// offerWords count the intersections on offer, of all those found where they are
// more.
func (g *FoundGrid) offerWords() string {
	if all := len(g.found.Intersections); all != len(g.offer.Intersections) {
		return fmt.Sprintf("%d evenly spread intersections (of %d found)", len(g.offer.Intersections), all)
	}
	return fmt.Sprintf("%d intersections", len(g.offer.Intersections))
}

// Discard cancels the search, or discards the grid found. It reports whether there was
// either.
func (g *FoundGrid) Discard() bool {
	searching := g.searching()
	if !searching && g.found == nil {
		return false
	}
	g.forget()
	g.do.changed()
	if searching {
		g.n.Foot.Say("Search for the printed grid cancelled.")
	} else {
		g.n.Foot.Say("Grid discarded.")
	}
	return true
}

// pulled moves a click onto the intersection of the grid found that it was meant for,
// where there is one within a dozen pixels, or within what the pointer can hit at the
// present zoom.
func (g *FoundGrid) pulled(at view.PicPt, sigmaPx float64) view.PicPt {
	if g.found == nil {
		return at
	}
	c, ok := g.found.Nearest(sheetview.PicturePt(at))
	if !ok || math.Hypot(c.Col-at.X, c.Row-at.Y) > max(12, 8*sigmaPx) {
		return at
	}
	return view.PicPt{X: c.Col, Y: c.Row}
}

func (g *FoundGrid) addTo(s *overlay.Scene) {
	if len(g.drawn.Lines) > 0 {
		s.Found, s.Grid = g.drawn, nil // two grids would hide the printed one
	}
}
