package plan

import "testing"

// The distances to keep are common practice, without a source. Steep ground keeps one
// spacing of the terrain's posts.
func TestDefaultKeep(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind        HazardKind
		postM, want float64
	}{{Crag, 0, 50}, {Crag, 92, 50}, {Water, 30, 20}, {Steep, 0, 30}, {Steep, 10, 10}, {Steep, 92, 92}, {Steep, 19.97, 20}, {Bog, 30, 0}, {Private, 30, 0}} {
		if got := c.kind.DefaultKeepM(c.postM); got != c.want {
			t.Errorf("%v with posts %v m apart keeps %v m, want %v", c.kind, c.postM, got, c.want)
		}
	}
}

func TestBadShapes(t *testing.T) {
	t.Parallel()
	at := func(n int) (out []Position) {
		for i := range n {
			out = append(out, typed(float64(51_000+100*i), float64(799_000-i*i)))
		}
		return out
	}
	p := testPlan(t)
	for what, q := range map[string]*Plan{
		"an area of two points": p.AddHazard(Hazard{ID: "h", Kind: Crag, Closed: true, Points: at(2)}),
		"a line of one point":   p.AddHazard(Hazard{ID: "h", Kind: Crag, Points: at(1)}),
		"no kind":               p.AddHazard(Hazard{ID: "h", Points: at(2)}),
		"a crag with a bridge":  p.AddHazard(Hazard{ID: "h", Kind: Crag, Crosses: Bridge, Points: at(2)}),
		"an unknown crossing":   p.AddHazard(Hazard{ID: "h", Kind: Water, Crosses: "swim", Points: at(2)}),
		"a keep below 0":        p.AddHazard(Hazard{ID: "h", Kind: Water, KeepM: -1, Points: at(2)}),
		"a haven nowhere":       p.AddHaven(Haven{ID: "h", Kind: RoadHaven}),
		"a haven of no kind":    p.AddHaven(Haven{ID: "h", Kind: "pub", Points: at(1)}),
		"an unknown way out":    p.AddHaven(Haven{ID: "h", Kind: RoadHaven, Out: Minutes{Min: 5}, Points: at(1)}),
		"a stream to follow":    p.AddLine(Line{ID: "l", Kind: "stream", Points: at(2)}),
		"too many points":       p.AddLine(Line{ID: "l", Kind: PathLine, Points: at(MaxVertices + 1)}),
	} {
		if q.Validate() == nil {
			t.Errorf("%s is valid", what)
		}
	}
	good := p.AddHazard(Hazard{ID: "h", Kind: Water, Crosses: Ford, KeepM: 20, Points: at(2)}).AddHaven(Haven{ID: "v", Kind: SignalHaven, Points: at(1)}).AddLine(Line{ID: "l", Kind: WallLine, Name: "March dyke", Points: at(2)})
	if err := good.Validate(); err != nil {
		t.Error(err)
	}
	for id, want := range map[ID]string{"h": "water h", "v": "phone signal v", "l": "March dyke", "mark-1": "Cairn", "leg-2": "leg 2", "none": ""} {
		if got := good.TitleOf(id); got != want {
			t.Errorf("%s is called %q, want %q", id, got, want)
		}
	}
}

// A shape without a name keeps its number when an earlier one is deleted, and a line that
// is deleted does not pass its ID on while an escape still follows it.
func TestNumbersOfShapesStay(t *testing.T) {
	t.Parallel()
	at := []Position{typed(51_000, 799_000), typed(51_100, 799_100)}
	p := testPlan(t)
	for range 3 {
		p = p.AddHazard(Hazard{ID: p.NextID(OfHazard), Kind: Crag, Points: at}).AddHaven(Haven{ID: p.NextID(OfHaven), Kind: RoadHaven, Points: at}).AddLine(Line{ID: p.NextID(OfLine), Kind: WallLine, Points: at})
	}
	q := p.Remove("hazard-1", "haven-2", "line-1")
	for id, want := range map[ID]string{"hazard-3": "crag 3", "hazard-2": "crag 2", "haven-3": "road 3", "line-2": "wall 2"} {
		if was, got := p.TitleOf(id), q.TitleOf(id); was != want || got != want {
			t.Errorf("%s was called %q and is called %q, want %q", id, was, got, want)
		}
	}
	follows := p.AddEscape(Escape{ID: "e", Start: AtPosition(at[0]), Legs: []EscapeLeg{{To: AtPosition(at[1]), Along: "line-3"}}}).Remove("line-3")
	if got := follows.NextID(OfLine); got != "line-4" {
		t.Errorf("a new line would be %s, which an escape follows", got)
	}
}
