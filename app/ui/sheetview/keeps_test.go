package sheetview_test

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/plan"
	"legwright/app/ui/sheetview"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// dangers are a crag and private ground on the sheet of newBench, where a pixel is ten metres: the
// crag runs south from 200 100 and keeps 50 m off, the private ground lies 1 km east of it.
func dangers(t *testing.T, b *bench) (crag, private plan.ID) {
	t.Helper()
	draw := func(kind plan.HazardKind, closed bool, xy ...float64) plan.ID {
		var list []plan.Position
		for i := 0; i < len(xy); i += 2 {
			pos, err := b.view.PositionAt(view.PicPt{X: xy[i], Y: xy[i+1]})
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, pos)
		}
		id, err := b.s.AddHazard(kind, closed, list)
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	crag = draw(plan.Crag, false, 200, 100, 200, 160)
	private = draw(plan.Private, true, 300, 100, 330, 100, 330, 160, 300, 160)
	b.s.Select("")
	b.Drain()
	return crag, private
}

// While a line is dragged the dial says at once what it comes near or enters, as of the leg that
// it would be: of the route or, with the tool of escapes, of an escape. The outline to keep from
// a hazard near it is drawn as long as it is near, and the strip names the hazard.
func TestHazardsSpeakUpWhileALineIsDragged(t *testing.T) {
	b := newBench(t)
	crag, _ := dangers(t, b)
	keep := func() (n int) {
		for _, h := range b.view.Scene().Hazards {
			if n += len(h.Keep); h.ID != crag && len(h.Keep) > 0 {
				t.Errorf("an outline to keep from %s is drawn", h.ID)
			}
		}
		return n
	}
	for _, off := range []bool{false, true} {
		b.view.SetTool(sheetview.Tool{Kind: tool.Sight, Off: off})
		b.to(100, 130)
		b.Press()
		for _, at := range []struct {
			col     float64
			code    caution.Code
			stop    bool
			outline int
		}{{140, "", false, 0}, {190, "", false, 1}, {197, caution.PassesHazard, false, 1}, {220, caution.NearHazard, true, 1}, {320, caution.EntersPrivate, true, 1}, {120, "", false, 0}} {
			if b.to(at.col, 130); off && at.code == caution.PassesHazard {
				at.code, at.stop = caution.NearHazard, true
			}
			b.Drain()
			f := b.dial.Figures()
			said := at.code == ""
			for _, words := range append(f.Stops, f.Notes...) {
				said = said || words == caution.Of(at.code).Short()
			}
			lead := ""
			if at.stop {
				lead = map[bool]string{true: "STOP: ", false: "As a leg: "}[off]
			}
			if !said || !strings.HasPrefix(f.Stop, lead) || (f.Stop != "") != at.stop || f.AsSight != (at.stop && !off) {
				t.Errorf("off %v, to %v: the dial says %q, %q, %q; want %q", off, at.col, f.Stop, f.Stops, f.Notes, at.code)
			}
			if at.col < 300 && keep() != at.outline {
				t.Errorf("off %v, to %v: %d outlines are drawn, want %d", off, at.col, keep(), at.outline)
			}
		}
		b.to(220, 130)
		b.Release()
		b.Drain()
		want := map[bool]string{true: "STOP: too near a hazard", false: "As a leg: too near a hazard"}[off]
		if text := b.view.Strip().Text(); !strings.HasPrefix(text, want) {
			t.Errorf("off %v: the strip says %q, want %q first", off, text, want)
		}
		if !off { // kept as a leg it is a stop in full
			b.view.Offer().KeepLeg()
			b.Drain()
			if f := b.dial.Figures(); f.Stop != "STOP: too near a hazard" || f.AsSight {
				t.Errorf("of the leg the dial says %q, as of a sight %v", f.Stop, f.AsSight)
			}
			b.s.Undo()
			b.Drain()
		}
		b.to(100, 130)
		b.Press()
		b.to(197, 130)
		b.Release()
		b.Drain()
		if text := b.view.Strip().Text(); !strings.Contains(text, "comes within 2") && !strings.Contains(text, "comes within 3") {
			t.Errorf("off %v: the strip says %q", off, text)
		}
		if err := b.s.SetHazardKeep(crag, "40 m"); err != nil {
			t.Fatal(err)
		}
		b.Drain()
		if b.view.Offer().On() || keep() != 0 {
			t.Error("a reading stays that was judged before the hazard changed")
		}
		b.s.Undo()
	}
}

// Near a hazard a drag draws the layers again only where its outline comes or goes.
func TestAnOutlineIsDrawnOnce(t *testing.T) {
	b := newBench(t)
	dangers(t, b)
	b.to(100, 130)
	b.Press()
	b.to(180, 130)
	for i := range 4 {
		if n := b.during(func() { b.to(181+float64(i), 130) }); n.scene != 0 || n.dial != 1 {
			t.Errorf("event %d painted %+v", i, n)
		}
	}
	if n := b.during(func() { b.to(110, 130) }); n.scene != 1 {
		t.Errorf("leaving it painted %+v", n)
	}
}
