package baseplate

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"legwright/app/plan"
	"legwright/app/teach"
	"legwright/app/ui/dial/housing"
	"legwright/app/units"
)

// testInk is a set of colours that differ enough to be told apart by a pixel.
func testInk() Ink {
	c := func(h uint32) color.NRGBA {
		return color.NRGBA{R: uint8(h >> 16), G: uint8(h >> 8), B: uint8(h), A: 0xff}
	}
	clear, floor := c(0xfaf8f2), c(0xfaf8f2)
	clear.A, floor.A = 0x58, 0x30
	return Ink{
		Housing: housing.Ink{
			Rim: c(0x1b252c), Ring: c(0x34434e), Mark: c(0xf6f3eb),
			Plate: floor, Line: c(0x8a9494), Letter: c(0x34434e),
			Needle: c(0x7a3b6f), Tail: c(0x34434e), Index: c(0xd9b7d3),
		},
		Map: c(0xeeeae0), Ground: c(0xdfe3dc), Grid: c(0x5f93ad), Line: c(0x202b33),
		Text: c(0x202b33), Quiet: c(0x54606a), Casing: c(0xf6f3eb),
		Plate: clear, Edge: c(0x34434e), Wrong: c(0x9b2c22),
	}
}

func newDrawing(t testing.TB, px int) *Drawing {
	t.Helper()
	d, err := New(px, testInk())
	if err != nil {
		t.Fatalf("new drawing of %d: %v", px, err)
	}
	return d
}

func task(legDeg, gmaDeg float64) teach.CompassTask {
	return teach.CompassTask{
		Leg: units.NewGridBearing(units.Degrees(legDeg)), GMA: units.GMA(units.Degrees(gmaDeg)),
		HasMagnetic: true, LengthM: 1000,
	}
}

// TestGolden compares pictures with stored ones, with room for one thirty-second of the
// range in a pixel and for 0.2 % of pixels beyond that. Run with
// LEGWRIGHT_UPDATE_GOLDENS=1 to store them anew, and look at them.
func TestGolden(t *testing.T) {
	t.Parallel()
	set := task(301, -17)
	set.Compass = plan.Compass{Set: true, SetTo: units.Degrees(-17), Circle: units.Mils6400}
	stopped := ViewOf(teach.Stepping{Way: teach.GroundToMap, Step: 4, Wrong: teach.CorrectedTwice}, task(57, 12))
	stopped.Stop = true
	named := ViewOf(teach.Stepping{Step: 4, Wrong: teach.PlateReversed}, set)
	named.Names = Names{From: "Peel Cairn", To: "the sheepfold below the long wall"}
	cases := map[string]View{
		"map_1_edge":       ViewOf(teach.Stepping{Step: 1}, task(57, 12)),
		"map_2_lines":      ViewOf(teach.Stepping{Step: 2}, task(57, 12)),
		"map_3_corrected":  ViewOf(teach.Stepping{Step: 3}, task(57, 12)),
		"map_4_walk":       ViewOf(teach.Stepping{Step: 4}, task(57, 12)),
		"map_2_eastings":   ViewOf(teach.Stepping{Step: 2, Wrong: teach.LinesAlongEastings}, task(200, 12)),
		"map_4_wrong_side": ViewOf(teach.Stepping{Step: 4, Wrong: teach.CorrectedWrongWay}, set),
		"map_4_reversed":   named,
		"ground_2_seated":  ViewOf(teach.Stepping{Way: teach.GroundToMap, Step: 2}, task(135, -17)),
		"ground_4_plotted": ViewOf(teach.Stepping{Way: teach.GroundToMap, Step: 4}, task(135, -17)),
		"ground_4_stopped": stopped,
		"between":          Between(ViewOf(teach.Stepping{Step: 3}, task(57, 12)), ViewOf(teach.Stepping{Step: 4, Wrong: teach.SouthEndSeated}, task(57, 12)), 0.4),
		"hidden":           {Hidden: true},
	}
	d := newDrawing(t, 300)
	for name, v := range cases {
		compare(t, name, d.Draw(v))
	}
}

func compare(t *testing.T, name string, got *image.RGBA) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if os.Getenv("LEGWRIGHT_UPDATE_GOLDENS") != "" {
		store(t, path, got)
		return
	}
	file, err := os.Open(path)
	if err != nil {
		t.Fatalf("golden picture: %v", err)
	}
	defer file.Close()
	want, err := png.Decode(file)
	if err != nil || want.Bounds() != got.Bounds() {
		t.Fatalf("golden picture %s: %v", path, err)
	}
	off := 0
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			if differs(got.At(x, y), want.At(x, y)) {
				off++
			}
		}
	}
	if most := got.Rect.Dx() * got.Rect.Dy() / 500; off > most {
		failed := filepath.Join(os.TempDir(), "baseplate_"+name+".png")
		store(t, failed, got)
		t.Errorf("%s: got %d pixels that differ, want at most %d; see %s", name, off, most, failed)
	}
}

func differs(a, b color.Color) bool {
	r0, g0, b0, _ := a.RGBA()
	r1, g1, b1, _ := b.RGBA()
	far := func(p, q uint32) bool { return max(p, q)-min(p, q) > 65535/32 }
	return far(r0, r1) || far(g0, g1) || far(b0, b1)
}

func store(t *testing.T, path string, im image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	file, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := png.Encode(file, im); err != nil {
		t.Fatal(err)
	}
}

// TestHiddenGivesNothingAway draws lines of other bearings, lengths and names hidden, and
// views that hold no numbers: every picture is the same.
func TestHiddenGivesNothingAway(t *testing.T) {
	t.Parallel()
	d := newDrawing(t, 240)
	want := bytes.Clone(d.Draw(View{Hidden: true}).Pix)
	shown := ViewOf(teach.Stepping{Step: 3}, task(57, 12))
	if bytes.Equal(want, d.Draw(shown).Pix) {
		t.Fatal("a shown view looks as a hidden one")
	}
	hide := func(v View) View { v.Hidden = true; v.Stop, v.Names.To = v.Plate > 1, "somewhere"; return v }
	nan, inf := shown, shown
	nan.Needle, inf.To[0] = units.Angle(math.NaN()), math.Inf(1)
	for i, v := range []View{hide(shown), hide(ViewOf(teach.Stepping{Way: teach.GroundToMap, Step: 4}, task(222, -17))), nan, inf} {
		if d.Draw(shown); !bytes.Equal(want, d.Draw(v).Pix) {
			t.Errorf("view %d: the picture differs from a hidden one", i)
		}
	}
}

// TestNoNeedleIsInvented draws a line without a magnetic bearing.
func TestNoNeedleIsInvented(t *testing.T) {
	t.Parallel()
	ink := testInk()
	ink.Housing.Tail = color.NRGBA{1, 200, 2, 0xff} // nothing else has this colour
	d, err := New(300, ink)
	if err != nil {
		t.Fatal(err)
	}
	without := task(57, 12)
	without.HasMagnetic = false
	for _, c := range []struct {
		task teach.CompassTask
		want bool
	}{{task(57, 12), true}, {without, false}} {
		got := 0
		im := d.Draw(ViewOf(teach.Stepping{Step: 4}, c.task))
		for i := 0; i < len(im.Pix); i += 4 {
			if im.Pix[i] == 1 && im.Pix[i+1] == 200 {
				got++
			}
		}
		if (got > 50) != c.want || !c.want && got > 0 {
			t.Errorf("magnetic bearing %v: got %d pixels of a needle", c.want, got)
		}
	}
}

// TestTheFigureCoversNoName arranges lines all round, handled right and wrong: the figure
// and the name of the feature have nothing in common, and both are written where they are
// said to be.
func TestTheFigureCoversNoName(t *testing.T) {
	t.Parallel()
	d := newDrawing(t, 300)
	for deg := 0.0; deg < 360; deg += 15 {
		for _, w := range append(teach.Wrongs(), teach.DoneRight) {
			for _, way := range []teach.Way{teach.MapToGround, teach.GroundToMap} {
				v := ViewOf(teach.Stepping{Way: way, Step: 4, Wrong: w}, task(deg, 12))
				v.Names = Names{From: "Peel Cairn", To: "Wood corner"}
				_, _, taken := d.arrange(v)
				name := taken[len(taken)-1]
				x, _ := d.corner(v, taken)
				figure := figureBox(300, x, d.indexOf(v).all)
				if name.common([]box{figure}) > 0 {
					t.Errorf("%v°, way %d, %s: the figure covers the name", deg, way, w.Words())
				}
				if im := d.Draw(v); inked(im, figure) < 100 || name != (box{}) && inked(im, name) < 30 {
					t.Errorf("%v°, way %d, %s: %d pixels of a figure, %d of a name", deg, way, w.Words(), inked(im, figure), inked(im, name))
				}
			}
		}
	}
}

// inked counts the pixels in a box that have the colour of what is written.
func inked(im *image.RGBA, b box) (n int) {
	for y := int(b.top); y < int(b.bottom); y++ {
		for x := int(b.left); x < int(b.right); x++ {
			if !differs(im.At(x, y), testInk().Text) {
				n++
			}
		}
	}
	return n
}

func TestSizes(t *testing.T) {
	t.Parallel()
	for _, px := range []int{-1, 0, Smallest - 1, Largest + 1} {
		if _, err := New(px, testInk()); !errors.Is(err, ErrSize) {
			t.Errorf("%d pixels: got error %v, want ErrSize", px, err)
		}
	}
	for _, px := range []int{Smallest, 221, 377} { // every view stays within the picture and is opaque
		d := newDrawing(t, px)
		for deg := 0.0; deg < 360; deg += 31 {
			for _, w := range append(teach.Wrongs(), teach.DoneRight) {
				im := d.Draw(ViewOf(teach.Stepping{Way: teach.Way(int(deg) % 2), Step: 4, Wrong: w}, task(deg, 17)))
				for i := 3; i < len(im.Pix); i += 4 {
					if im.Pix[i] != 0xff {
						t.Fatalf("%d pixels, %v°, %s: a pixel shows through", px, deg, w.Words())
					}
				}
			}
		}
	}
}

// BenchmarkDraw measures one frame while the compass moves between two steps.
func BenchmarkDraw(b *testing.B) {
	for _, px := range []int{420, 830, 1060} {
		b.Run(strconv.Itoa(px), func(b *testing.B) {
			d := newDrawing(b, px)
			from, to := ViewOf(teach.Stepping{Step: 3}, task(57, 12)), ViewOf(teach.Stepping{Step: 4, Wrong: teach.PlateReversed}, task(57, 12))
			for i := 0; b.Loop(); i++ {
				d.Draw(Between(from, to, float64(i%50+1)/52))
			}
		})
	}
}
