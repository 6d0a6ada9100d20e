package tool

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"legwright/app/plan"
	"legwright/canvas/view"
)

// ground has a mark at (100, 100), a leg from (200, 200) to (300, 200), a control point at
// (400, 400) and points of a hazard at (700, 300) and on the mark, in picture pixels.
type ground struct{ v *view.View }

func (g ground) Snap(at view.ScreenPt, r float64) (Spot, bool) {
	return g.nearest(at, r, []Spot{
		{view.PicPt{X: 100, Y: 100}, Target{Part: Point, Kind: plan.OfMark, ID: "m1"}},
		{view.PicPt{X: 200, Y: 200}, Target{Part: Point, Kind: plan.OfLeg, ID: "l1"}},
		{view.PicPt{X: 300, Y: 200}, Target{Part: Point, Kind: plan.OfLeg, ID: "l1", Index: 1}},
		{view.PicPt{X: 700, Y: 300}, Target{Part: Point, Kind: plan.OfHazard, ID: "h1", Index: 3}},
	})
}

func (g ground) Vertex(at view.ScreenPt, r float64) (Spot, bool) {
	return g.nearest(at, r, []Spot{
		{view.PicPt{X: 700, Y: 300}, Target{Part: Point, Kind: plan.OfHazard, ID: "h1", Index: 3}},
		{view.PicPt{X: 100, Y: 100}, Target{Part: Point, Kind: plan.OfHazard, ID: "h1", Index: 4}},
	})
}

func (g ground) Hit(at view.ScreenPt, r float64) (Spot, bool) {
	if s, ok := g.Snap(at, r); ok {
		return s, true
	}
	if s, ok := g.nearest(at, r, []Spot{{view.PicPt{X: 400, Y: 400}, Target{Part: Control, Index: 2}}}); ok {
		return s, true
	}
	p := g.v.ToPicture(at)
	if p.X > 200 && p.X < 300 && p.Y > 200-r && p.Y < 200+r {
		return Spot{p, Target{Part: Line, Kind: plan.OfLeg, ID: "l1"}}, true
	}
	return Spot{}, false
}

func (g ground) nearest(at view.ScreenPt, r float64, spots []Spot) (best Spot, found bool) {
	for _, s := range spots {
		if d := g.v.ToScreen(s.At).Dist(at); d <= r {
			best, found, r = s, true, d
		}
	}
	return best, found
}

// bench runs scripts such as "press 100,100; move 200,50; release 200,50"
// over a sheet of 1000 × 800 shown one to one, its corner at the map area's.
type bench struct {
	*Machine
	v     view.View
	clock time.Time
	log   []string
}

func newBench(k Kind) *bench {
	v := view.New(1000, 800, 1000, 800).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	b := &bench{Machine: New(), v: v, clock: time.Unix(1e9, 0)}
	b.SetKind(k)
	b.SetView(b.v, 1)
	b.SetGround(ground{&b.v})
	return b
}

func (b *bench) run(t *testing.T, script string) string {
	t.Helper()
	for step := range strings.SplitSeq(script, ";") {
		f := strings.Fields(step)
		var x, y float64
		if len(f) > 1 && strings.Contains(f[1], ",") {
			if _, err := fmt.Sscanf(f[1], "%g,%g", &x, &y); err != nil {
				t.Fatalf("step %q: %v", step, err)
			}
		}
		p := Pointer{At: view.ScreenPt{X: x, Y: y}, Button: Left, Time: b.clock}
		if len(f) > 2 {
			p.Button = map[string]Button{"middle": Middle, "right": Right, "space": Left}[f[2]]
			p.Space = f[2] == "space"
		}
		b.step(t, f, p, int(x), int(y))
	}
	return strings.Join(b.log, "; ")
}

func (b *bench) step(t *testing.T, f []string, p Pointer, x, y int) {
	t.Helper()
	switch f[0] {
	case "press":
		b.note(b.Press(p))
	case "move":
		b.note(b.Move(p))
	case "release":
		b.note(b.Release(p))
	case "escape":
		b.note(b.Cancel())
	case "wait":
		b.clock = b.clock.Add(time.Second)
	case "keys", "KEYS":
		b.note(b.CursorMove(x, y, f[0] == "KEYS"))
	case "enter":
		b.note(b.CursorPress())
	case "tool":
		b.note(b.SetKind(Pan))
	default:
		t.Fatalf("unknown step %q", f[0])
	}
	b.clock = b.clock.Add(50 * time.Millisecond)
}

// note writes the intents down and carries out a pan.
func (b *bench) note(in []Intent) {
	names := map[Act]string{
		Hover: "hover", Live: "live", Offer: "offer", Cancelled: "cancelled", Click: "click",
		DoubleClick: "double", Secondary: "secondary", Moving: "moving", Moved: "moved", PanBy: "pan",
	}
	for _, i := range in {
		s := names[i.Act]
		switch i.Act {
		case Hover, Click, DoubleClick, Secondary:
			s += " " + place(i.To)
		case Live, Offer, Moving, Moved:
			s += " " + place(i.From) + "→" + place(i.To)
		case PanBy:
			s += fmt.Sprintf(" %g,%g", i.DX, i.DY)
			b.v = b.v.PanBy(i.DX, i.DY)
			b.SetView(b.v, 1)
		}
		b.log = append(b.log, s)
	}
}

func place(s Spot) string {
	out := fmt.Sprintf("%.0f,%.0f", s.At.X, s.At.Y)
	switch s.Target.Part {
	case Nothing:
	case Control:
		out += fmt.Sprintf("(control %d)", s.Target.Index)
	default:
		part := map[Part]string{Point: "point", Line: "line"}[s.Target.Part]
		out += fmt.Sprintf("(%s %s %d)", s.Target.ID, part, s.Target.Index)
	}
	return out
}

func TestScripts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, script, want string
		kind               Kind
	}{
		{"drag a bearing", "press 500,500; move 501,500; move 600,400; release 620,400", "live 500,500→600,400; live 500,500→620,400; offer 500,500→620,400", Sight},
		{"both ends snap within 8 px", "press 107,100; move 150,150; release 204,206", "live 100,100(m1 point 0)→150,150; live 100,100(m1 point 0)→200,200(l1 point 0); offer 100,100(m1 point 0)→200,200(l1 point 0)", Sight},
		{"no snap at 9 px", "press 109,100; move 150,150; release 209,200", "live 109,100→150,150; live 109,100→209,200; offer 109,100→209,200", Sight},
		{"a drag does not snap back to its start", "press 100,100; move 104,100; release 105,100", "live 100,100(m1 point 0)→104,100; live 100,100(m1 point 0)→105,100; offer 100,100(m1 point 0)→105,100", Sight},
		{"escape cancels", "press 500,500; move 600,400; escape; move 610,400; release 620,400", "live 500,500→600,400; cancelled; hover 610,400", Sight},
		{"a click in Sight picks", "press 250,202; release 250,202", "click 250,202(l1 line 0)", Sight},
		{"double click reports on the press", "press 600,600; release 600,600; press 602,601; release 602,601", "click 600,600; double 602,601", Sight},
		{"too slow for a double click", "press 600,600; release 600,600; wait; press 600,600; release 600,600", "click 600,600; click 600,600", Sight},
		{"too far for a double click", "press 600,600; release 600,600; press 610,600; release 610,600", "click 600,600; click 610,600", Sight},
		{"middle button pans", "press 500,500 middle; move 510,495; move 512,495; release 512,495 middle", "pan 10,-5; pan 2,0", Sight},
		{"space-drag pans", "press 500,500 space; move 510,495; release 510,495", "pan 10,-5", Sight},
		{"another button while one is held means nothing", "press 500,500; press 500,500 right; release 500,500 right; move 600,500; release 600,500", "live 500,500→600,500; live 500,500→600,500; offer 500,500→600,500", Sight},
		{"right click", "press 250,200 right; release 250,200 right", "secondary 250,200(l1 line 0)", Sight},
		{"hover names what is near", "move 101,100; move 500,500", "hover 101,100(m1 point 0); hover 500,500", Sight},
		{"calibrate: a click is exact", "press 103,100; release 103,100", "click 103,100", Calibrate},
		{"calibrate: a click on a control point takes it", "press 403,400; release 403,400", "click 400,400(control 2)", Calibrate},
		{"calibrate: control points can be dragged", "press 403,400; move 420,420; release 421,420", "moving 400,400(control 2)→420,420; moving 400,400(control 2)→421,420; moved 400,400(control 2)→421,420", Calibrate},
		{"calibrate: elsewhere a drag pans", "press 603,400; move 620,420; release 620,420", "pan 17,20", Calibrate},
		{"move a mark", "press 101,101; move 150,150; release 160,150", "moving 100,100(m1 point 0)→150,150; moving 100,100(m1 point 0)→160,150; moved 100,100(m1 point 0)→160,150", Move},
		{"a leg end snaps to a mark", "press 201,201; move 150,150; release 102,102", "moving 200,200(l1 point 0)→150,150; moving 200,200(l1 point 0)→100,100(m1 point 0); moved 200,200(l1 point 0)→100,100(m1 point 0)", Move},
		{"move: escape leaves things alone", "press 101,101; move 150,150; escape; release 150,150", "moving 100,100(m1 point 0)→150,150; cancelled", Move},
		{"move: elsewhere a drag pans", "press 601,601; move 650,650; release 650,650", "pan 49,49", Move},
		{"shape: a point of a hazard moves, and snaps", "press 701,300; move 650,300; release 102,101", "moving 700,300(h1 point 3)→650,300; moving 700,300(h1 point 3)→100,100(m1 point 0); moved 700,300(h1 point 3)→100,100(m1 point 0)", Shape},
		{"shape: a point of a hazard on a mark moves, and the mark stays", "press 101,101; move 150,150; release 150,150", "moving 100,100(h1 point 4)→150,150; moving 100,100(h1 point 4)→150,150; moved 100,100(h1 point 4)→150,150", Shape},
		{"shape: a leg stays", "press 201,201; move 250,250; release 250,250", "pan 49,49", Shape},
		{"shape: a click picks", "press 701,300; release 701,300", "click 700,300(h1 point 3)", Shape},
		{"select", "press 250,204; release 250,204; press 700,700; move 710,700; release 710,700", "click 250,204(l1 line 0); pan 10,0", Select},
		{"pan tool", "press 700,700; move 701,700; release 701,700", "pan 1,0", Pan},
		{"changing the tool cancels", "press 500,500; move 600,400; tool", "live 500,500→600,400; cancelled", Sight},
		{"keyboard: begins in the middle, makes a leg", "KEYS 0,0; enter; KEYS 2,0; keys 1,-1; enter", "hover 500,400; live 500,400→520,400; live 500,400→521,399; live 500,400→521,399; offer 500,400→521,399", Sight},
		{"keyboard: begins where the pointer was", "move 100,103; keys 0,0; enter; KEYS 5,0; enter", "hover 100,103(m1 point 0); hover 100,103(m1 point 0); live 100,100(m1 point 0)→150,103; live 100,100(m1 point 0)→150,103; offer 100,100(m1 point 0)→150,103", Sight},
		{"keyboard: escape", "enter; KEYS 2,0; escape; KEYS 1,0", "live 500,400→520,400; cancelled; hover 530,400", Sight},
		{"keyboard: two presses on one place are a click", "enter; enter", "click 500,400", Sight},
		{"keyboard: a click calibrates", "keys 3,0; enter", "hover 503,400; click 503,400", Calibrate},
		{"keyboard: moves a mark", "move 100,100; enter; KEYS 3,0; enter", "hover 100,100(m1 point 0); moving 100,100(m1 point 0)→130,100; moving 100,100(m1 point 0)→130,100; moved 100,100(m1 point 0)→130,100", Move},
		{"keyboard: the mouse does not disturb", "enter; KEYS 2,0; move 900,100; enter", "live 500,400→520,400; hover 900,100; live 500,400→520,400; offer 500,400→520,400", Sight},
		{"keyboard: a mouse press takes over", "enter; KEYS 2,0; press 600,600; move 650,600; release 650,600", "live 500,400→520,400; cancelled; live 600,600→650,600; live 600,600→650,600; offer 600,600→650,600", Sight},
		{"keyboard: the sheet follows at the rim", "move 970,400; KEYS 1,0", "hover 970,400; hover 980,400; pan -480,0", Sight},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			if got := newBench(c.kind).run(t, c.script); got != c.want {
				t.Errorf("%s\n got %s\nwant %s", c.script, got, c.want)
			}
		})
	}
}

func TestCursorStaysOnItsFeature(t *testing.T) {
	t.Parallel()
	b := newBench(Sight)
	b.CursorMove(3, 4, false)
	at, _ := b.Cursor()
	b.SetView(b.v.ZoomAt(view.ScreenPt{X: 10, Y: 10}, 2), 1)
	if got, on := b.Cursor(); got != at || !on {
		t.Errorf("got %v %v, want %v true", got, on, at)
	}
}

func TestRadiiFollowTheDisplayScale(t *testing.T) {
	t.Parallel()
	b := newBench(Sight)
	b.SetView(b.v, 2)
	got := b.run(t, "press 115,100; move 150,150; release 150,150")
	if want := "live 100,100(m1 point 0)→150,150"; !strings.HasPrefix(got, want) {
		t.Errorf("at 2 px each: got %s, want %s…", got, want)
	}
}
