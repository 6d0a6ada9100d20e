package overlay

import "legwright/canvas/view"

const (
	// leastGrid is how near plain grid lines may come to each other, in
	// device-independent pixels; nearer, only every tenth is drawn.
	leastGrid = 14
	// dotGap is the distance of a track's dots.
	dotGap = 6
	// plainTrack is the number of visible points above which a track is
	// thinned to points at least two dots apart.
	plainTrack = 2000
)

func (d *drawing) grid(s *strip) {
	all := d.gridApart() >= leastGrid*d.p.px
	for _, g := range d.scene.Grid {
		if !all && !g.Index {
			continue
		}
		pr := &d.p.ink[pick(g.Index, gridIndex, gridLine)]
		for i := 1; i < len(g.Points); i++ {
			s.segment(pr, d.v.ToScreen(g.Points[i-1]), d.v.ToScreen(g.Points[i]), false)
		}
	}
}

// gridApart is the distance of neighbouring grid lines on the screen.
func (d *drawing) gridApart() float64 { return d.v.Scale() * d.scene.GridPx }

// tracks draws rows of dots, which do not touch each other, that of the chosen track
// last.
func (d *drawing) tracks(s *strip) {
	for _, chosen := range []bool{false, true} {
		for _, t := range d.scene.Tracks {
			if t.Selected != chosen {
				continue
			}
			for _, piece := range d.trackOnScreen(t, s) {
				s.dots(d.full(pick(chosen, trackChosen, trackDots)), piece, dotGap*d.p.px)
			}
		}
	}
}

// trackOnScreen is the track as connected pieces near the strip. Chunks that
// shrink to a dot become one point; long tracks are thinned.
func (d *drawing) trackOnScreen(t Track, s *strip) [][]view.ScreenPt {
	var out [][]view.ScreenPt
	var piece []view.ScreenPt
	least := 0.0
	if len(t.points) > plainTrack {
		least = 2 * dotGap * d.p.px
	}
	for i, box := range t.chunks {
		if !d.meets(box, s) {
			if len(piece) > 1 {
				out = append(out, piece)
			}
			piece = nil
			continue
		}
		from, to := i*chunkLen, min((i+1)*chunkLen+1, len(t.points))
		if box.Max.Dist(box.Min)*d.v.Scale() < dotGap*d.p.px {
			to = from + 1
		}
		for _, p := range t.points[from:to] {
			if q := d.v.ToScreen(p); len(piece) == 0 || piece[len(piece)-1].Dist(q) >= least {
				piece = append(piece, q)
			}
		}
	}
	if len(piece) > 1 {
		out = append(out, piece)
	}
	return out
}

// meets says whether a box of the picture comes near the strip.
func (d *drawing) meets(b view.Rect, s *strip) bool {
	c, r := d.v.ToScreen(b.Centre()), d.v.Scale()*b.Max.Dist(b.Min)/2+rimPx*d.p.px
	return c.X+r >= 0 && c.X-r <= float64(s.img.Rect.Dx()) && c.Y+r >= float64(s.y0) && c.Y-r <= float64(s.y1)
}

// dots draws dots every gap pixels along a way.
func (p *strip) dots(pr *profile, way []view.ScreenPt, gap float64) {
	next := 0.0
	for i := 1; i < len(way); i++ {
		a, b := way[i-1], way[i]
		length := a.Dist(b)
		if !(length <= farthest) {
			next = 0
			continue
		}
		t0, t1, ok := p.span(a, b, pr.reach+1)
		if ok && length > 0 {
			from := next
			if skip := t0*length - next; skip > 0 {
				from += gap * float64(int(skip/gap))
			}
			for s := from; s <= t1*length; s += gap {
				f := s / length
				q := view.ScreenPt{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
				p.segment(pr, q, q, true)
			}
		}
		if length >= next {
			next = gap - mod(length-next, gap)
		} else {
			next -= length
		}
	}
}

func mod(a, b float64) float64 { return a - b*float64(int(a/b)) }
