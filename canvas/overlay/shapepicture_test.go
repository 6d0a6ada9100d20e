package overlay

import (
	"math"
	"testing"

	"legwright/app/plan"
	"legwright/canvas/view"
)

// Areas look the same from their pictures as drawn anew, to the rounding of each layer, after each
// change of what they look like by.
func TestPicturesOfAreasLookLikeThem(t *testing.T) {
	t.Parallel()
	const w, h, rounding = 600, 400, 8
	p, s := NewPainter(), shapesScene()
	v := view.New(w, h, w, h).OneToOne(view.ScreenPt{})
	moved := shapesScene()
	moved.Hazards[0].Points = append([]view.PicPt{{X: 40, Y: 60}}, moved.Hazards[0].Points...)
	chosen := shapesScene()
	chosen.Areas[1].Selected = true
	other := shapesScene()
	other.Hazards[1] = NewHazard("b", plan.Bog, true, other.Hazards[1].Points, "bog 2")
	faint := shapesScene()
	faint.Faint = true
	for _, c := range []struct {
		name  string
		v     view.View
		s     Scene
		night bool
		kept  bool // in pictures that stand already
	}{
		{"first", v, s, false, false},
		{"again", v, s, false, true},
		{"panned", v.PanBy(-37, 21), s, false, true},
		{"panned beyond the edge", v.PanBy(280, -190), s, false, true},
		{"back", v, s, false, true},
		{"a corner moved", v, moved, false, true},
		{"another chosen", v, chosen, false, true},
		{"another kind", v, other, false, true},
		{"standing back", v, faint, false, false},
		{"standing back again", v, faint, false, true},
		{"by night", v, s, true, false},
		{"by night again", v, s, true, true},
		{"turned", v.RotateTo(0.7, v.Middle()), s, true, false},
		{"turned again", v.RotateTo(0.7, v.Middle()), s, true, true},
		{"nearer", v.ScaledTo(1.3, view.PicPt{X: 300, Y: 200}, v.Middle()), s, false, false},
		{"nearer again", v.ScaledTo(1.3, view.PicPt{X: 300, Y: 200}, v.Middle()), s, false, true},
		{"too near to keep any", v.ScaledTo(30, view.PicPt{X: 30, Y: 25}, v.Middle()), s, false, false},
		{"too near again", v.ScaledTo(30, view.PicPt{X: 30, Y: 25}, v.Middle()), s, false, false},
	} {
		fresh := NewPainter()
		p.SetNight(c.night)
		fresh.SetNight(c.night)
		got, want := p.Paint(w, h, c.v, 1, c.s), fresh.Paint(w, h, c.v, 1, c.s)
		if kept := len(p.shapes.list) > 0; kept != c.kept {
			t.Errorf("%s: %d pictures are kept, want some: %v", c.name, len(p.shapes.list), c.kept)
		}
		for i := range want.Pix {
			if d := apart(got.Pix[i], want.Pix[i]); d > rounding {
				t.Errorf("%s: byte %d of pixel (%d, %d) is %d, drawn anew %d", c.name, i%4, i/4%w, i/4/w, got.Pix[i], want.Pix[i])
				break
			}
		}
	}
}

// While the scale changes areas are stretched, up to thrice their size, and lie where they would be
// drawn; the drawing that follows at rest shows nothing stretched.
func TestAreasAreStretchedInHaste(t *testing.T) {
	t.Parallel()
	const w, h = 600, 400
	p, s := NewPainter(), shapesScene()
	v := view.New(w, h, w, h).OneToOne(view.ScreenPt{})
	to := func(k float64) view.View { return v.ScaledTo(k, view.PicPt{X: 90, Y: 110}, v.Middle()) }
	p.SetHasty(true)
	p.Paint(w, h, v, 1, s)
	for _, c := range []struct {
		scale     float64
		stretched bool
	}{{1.25, true}, {2.5, true}, {0.8, true}, {3.2, false}, {1.3, true}} {
		had := p.shapes.list["a"]
		got, want := p.Paint(w, h, to(c.scale), 1, s), NewPainter().Paint(w, h, to(c.scale), 1, s)
		if now := p.shapes.list["a"]; had == nil || now == nil || (now == had) != c.stretched {
			t.Errorf("at %v: stretched %t, want %t", c.scale, now == had, c.stretched)
		}
		inked, off := 0, 0
		for i := 3; i < len(want.Pix); i += 4 {
			inked += pick(want.Pix[i] > 0, 1, 0)
			off += pick((want.Pix[i] > 0) != (got.Pix[i] > 0), 1, 0)
		}
		if c.scale < 2 && off > inked/2 { // beyond, the stretched lines are the larger part
			t.Errorf("at %v: %d of %d pixels differ", c.scale, off, inked)
		}
	}
	p.SetHasty(false)
	got, want := p.Paint(w, h, to(1.3), 1, s), NewPainter().Paint(w, h, to(1.3), 1, s)
	for i := range want.Pix {
		if apart(got.Pix[i], want.Pix[i]) > 8 {
			t.Fatalf("at rest: byte %d of pixel (%d, %d) is %d, drawn anew %d", i%4, i/4%w, i/4/w, got.Pix[i], want.Pix[i])
		}
	}
}

// A picture is drawn once, and kept while its area is in sight and looks the same. All of them
// have at most half as many pixels again as the drawing.
func TestPicturesOfAreasAreKept(t *testing.T) {
	t.Parallel()
	const w, h = 600, 400
	p, s := NewPainter(), shapesScene()
	v := view.New(w, h, w, h).OneToOne(view.ScreenPt{})
	pictureOf := func(v view.View, s Scene) *shapePicture {
		p.Paint(w, h, v, 1, s)
		pixels := 0
		for _, pic := range p.shapes.list {
			pixels += pic.at.Dx() * pic.at.Dy()
		}
		if 2*pixels > 3*w*h {
			t.Errorf("pictures of %d pixels are kept for a drawing of %d", pixels, w*h)
		}
		return p.shapes.list["a"]
	}
	pictureOf(v, s)
	first := pictureOf(v, s)
	if first == nil {
		t.Fatal("no picture of the crag is kept")
	}
	if pictureOf(v.PanBy(-5, 9), s) != first {
		t.Error("a pan draws the picture again")
	}
	if pictureOf(v.PanBy(-250, 0), s) != nil {
		t.Error("the picture of an area out of sight is kept")
	}
	for _, x := range s.Hazards {
		if pic := p.shapes.list[x.ID]; !x.Closed && pic != nil {
			t.Errorf("a line has a picture: %s", x.Name)
		}
	}
	again := pictureOf(v, s)
	s.Hazards[0].Points = append([]view.PicPt{{X: 40, Y: 60}}, s.Hazards[0].Points...)
	if pictureOf(v, s) == again {
		t.Error("an area that changed keeps its picture")
	}
}

// An area too large for whole numbers of pixels, or with a corner nowhere, has no picture.
func TestNoPictureOfAnAreaWithoutBounds(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400)
	for _, far := range []float64{1e12, math.Inf(1), math.NaN()} {
		p := NewPainter()
		s := Scene{Hazards: []Shape{NewHazard("a", plan.Crag, true, []view.PicPt{{X: 1, Y: 1}, {X: far, Y: 5}, {X: 9, Y: 90}}, "")}}
		for range 2 {
			p.Paint(600, 400, v, 1, s)
		}
		if len(p.shapes.list) > 0 {
			t.Errorf("a corner at %v: %d pictures", far, len(p.shapes.list))
		}
	}
}
