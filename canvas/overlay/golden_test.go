package overlay

import (
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"legwright/canvas/view"
)

// Goldens are written anew by
//
//	go test ./canvas/overlay -run Golden -update
//
// Look at them before committing. A picture that differs is left in
// testdata/failed under the golden's name.
var update = flag.Bool("update", false, "write the golden pictures anew")

// A picture passes if no more than goldenShare of its pixels differ by more
// than goldenStep in any channel: floating point may be contracted
// differently on other machines.
const (
	goldenStep  = 24
	goldenShare = 0.002
)

// everything is a scene with one of each kind, on a sheet of 600 × 400.
func everything() Scene {
	pt := func(x, y float64) view.PicPt { return view.PicPt{X: x, Y: y} }
	var track []view.PicPt
	for i := range 30 {
		track = append(track, pt(20+float64(i)*18, 350+float64(i%4)*6))
	}
	return Scene{
		GridPx: 100,
		Grid: []GridLine{
			{Points: []view.PicPt{pt(100, 0), pt(100, 400)}, Label: "245"},
			{Points: []view.PicPt{pt(200, 0), pt(200, 400)}, Label: "246"},
			{Points: []view.PicPt{pt(300, 0), pt(300, 400)}, Label: "250", Index: true},
			{Points: []view.PicPt{pt(0, 120), pt(600, 120)}, Label: "813"},
		},
		Tracks: []Track{NewTrack("", track)},
		Legs: []Leg{
			{ID: "a", From: pt(60, 60), To: pt(330, 150), LengthM: 1140, Label: "108° mag  1 140 m"},
			{ID: "b", From: pt(330, 150), To: pt(540, 60), LengthM: 910, Label: "066° mag  910 m", Selected: true},
			{ID: "c", From: pt(330, 150), To: pt(380, 330), LengthM: 750, Label: "164° mag  750 m", Stopped: true},
			{ID: "d", From: pt(60, 160), To: pt(200, 190), LengthM: 530, Selected: true, Stopped: true},
		},
		Sights: []Sight{
			{ID: "s", From: pt(60, 300), To: pt(250, 220), Label: "067° mag"},
			{ID: "t", From: pt(60, 300), To: pt(250, 310), Selected: true},
			{ID: "u", From: pt(420, 300), To: pt(580, 330), Selected: true, Stopped: true},
			{ID: "v", From: pt(420, 310), To: pt(580, 380), Stopped: true},
		},
		Marks: []Mark{
			{ID: "m", At: pt(60, 60), Name: "Cairn"},
			{ID: "n", At: pt(540, 60), Name: "Hut", Selected: true},
		},
		Ends: []End{{At: pt(330, 150), Text: "A"}, {At: pt(250, 220), Text: "B"}},
		Controls: []Control{
			{At: pt(100, 120), Text: "NN 245 813"},
			{At: pt(480, 260), Text: "NN 283 799", Selected: true},
		},
		Residuals: []Residual{{From: pt(480, 260), To: pt(505, 240)}},
	}
}

// faintScene has everything stand back behind a found grid and what is aimed at.
func faintScene() Scene {
	s := everything()
	s.Found, s.Grid, s.Faint = foundScene().Found, nil, true
	s.Spots = []Spot{{At: view.PicPt{X: 330, Y: 150}, Kind: Aimed}}
	return s
}

// What stands back covers nothing of what a sheet is calibrated by: rings and lines of
// the found grid look as they do alone wherever they are drawn.
func TestFaintThingsCoverNothing(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	alone := onPaper(NewPainter().Paint(600, 400, v, 1, foundScene()))
	with := foundScene()
	with.Tracks, with.Legs, with.Sights, with.Marks = everything().Tracks, everything().Legs, everything().Sights, everything().Marks
	covered := onPaper(NewPainter().Paint(600, 400, v, 1, with))
	with.Faint = true
	faint := onPaper(NewPainter().Paint(600, 400, v, 1, with))
	differ := func(img *image.RGBA) (n int) {
		for i := 0; i < len(alone.Pix); i += 4 {
			if alone.Pix[i] < 0x60 && alone.Pix[i+2] > 0x80 && img.Pix[i] > alone.Pix[i]+goldenStep { // blue of rings and lines
				n++
			}
		}
		return n
	}
	if differ(covered) == 0 || differ(faint) != 0 {
		t.Errorf("%d pixels of the found grid are covered, standing back %d, want some and none", differ(covered), differ(faint))
	}
}

// The chosen track has a colour of its own and lies over the others, so that it is seen
// even among many.
func TestTheChosenTrackIsSeen(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	red := func(chosen bool) (n int) {
		track := everything().Tracks[0]
		over := NewTrack("other", track.points)
		track.Selected = chosen
		img := NewPainter().Paint(600, 400, v, 1, Scene{Tracks: []Track{track, over}})
		for i := 0; i < len(img.Pix); i += 4 {
			if img.Pix[i] > 0x80 && img.Pix[i+2] < 0x40 && img.Pix[i+3] > 0xc0 {
				n++
			}
		}
		return n
	}
	if plain, chosen := red(false), red(true); plain != 0 || chosen < 200 {
		t.Errorf("%d red pixels without a choice, %d with one", plain, chosen)
	}
}

func TestGolden(t *testing.T) {
	t.Parallel()
	whole := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	whole = whole.PanBy(-whole.Offset().X, -whole.Offset().Y)
	for _, c := range []struct {
		name string
		v    view.View
		px   float64
		s    Scene
	}{
		{"everything", whole, 1, everything()},
		{"scale-1.5", whole.WithViewport(900, 600).ScaledTo(1.5, view.PicPt{X: 300, Y: 200}, view.ScreenPt{X: 450, Y: 300}), 1.5, everything()},
		{"turned", whole.RotateTo(0.7, whole.Middle()), 1, everything()},
		{"close", whole.ScaledTo(6, view.PicPt{X: 330, Y: 150}, whole.Middle()), 1, everything()},
		{"far", whole.WithViewport(240, 160).Fit().ScaledTo(0.2, view.PicPt{X: 300, Y: 200}, view.ScreenPt{X: 120, Y: 80}), 1, everything()},
		{"empty", whole, 1, Scene{}},
		{"found", whole, 1, foundScene()},
		{"found-1.5", whole.WithViewport(900, 600).ScaledTo(1.5, view.PicPt{X: 300, Y: 200}, view.ScreenPt{X: 450, Y: 300}), 1.5, foundScene()},
		{"spots", whole, 1, Scene{Spots: []Spot{
			{At: view.PicPt{X: 100, Y: 100}, Kind: Aimed},
			{At: view.PicPt{X: 300, Y: 120}, Text: "NL 2205 4245", Kind: Agrees},
			{At: view.PicPt{X: 120, Y: 300}, Text: "56°10'N 6°20'W", Kind: Disagrees},
			{At: view.PicPt{X: 500, Y: 300}, Text: "Chapel", Kind: Unused},
		}}},
		{"faint", whole, 1, faintScene()},
		{"residuals", whole, 1, missedScene()},
		{"local", whole, 1, localScene(t)},
		{"local-turned", whole.RotateTo(0.7, whole.Middle()).ScaledTo(1.6, view.PicPt{X: 300, Y: 200}, whole.Middle()), 1, localScene(t)},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			w, h := c.v.Viewport()
			compareGolden(t, c.name, onPaper(NewPainter().Paint(w, h, c.v, c.px, c.s)))
		})
	}
}

// By night texts are light on a dark sheet. Its golden is laid over dark ground alone.
func TestNight(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	p := NewPainter()
	ground := image.NewRGBA(image.Rect(0, 0, 600, 400))
	paint := func(night bool) *image.RGBA {
		p.SetNight(night)
		draw.Draw(ground, ground.Rect, image.NewUniform(color.RGBA{0x30, 0x28, 0x18, 0xff}), image.Point{}, draw.Src)
		draw.Draw(ground, ground.Rect, p.Paint(600, 400, v, 1, everything()), image.Point{}, draw.Over)
		return ground
	}
	paint(false) // texts drawn for the day are not kept
	compareGolden(t, "night", paint(true))
	x, y := 84, 49 // within the name of the mark at the upper left
	lightest := 0
	for dx := range 20 {
		for dy := range 12 {
			lightest = max(lightest, int(ground.RGBAAt(x+dx, y+dy).R))
		}
	}
	if lightest < 0xf0 {
		t.Errorf("the lightest red in a name is %d, want white letters", lightest)
	}
}

// No ink of a level grid line stands beside its figure, where it would be read as a
// minus sign; the sheet reaches beyond what is seen, as it does while it is panned.
func TestGridLineIsNoMinusSign(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	s := Scene{GridPx: 100, Grid: []GridLine{{Points: []view.PicPt{{X: 0, Y: 200}, {X: 600, Y: 200}}, Label: "300"}}}
	for _, slope := range []float64{0, 20, -20} {
		s.Grid[0].Points[1].Y = 200 + slope
		p, img := NewPainter(), image.NewRGBA(image.Rect(0, 0, 600, 400))
		p.prepare(img, 1)
		d := newDrawing(p, v, s, image.Rect(100, 50, 500, 350))
		if len(d.texts) != 1 {
			t.Fatalf("slope %v: %d texts, want the figure", slope, len(d.texts))
		}
		at := d.texts[0].at.Inset(4) // without the halo
		a, b := s.Grid[0].Points[0], s.Grid[0].Points[1]
		for x := at.Min.X; x < at.Max.X; x++ {
			if y := a.Y + (b.Y-a.Y)*float64(x)/600; y < float64(at.Max.Y) && y > float64(at.Min.Y) {
				t.Fatalf("slope %v: the line meets its figure at %d, %.0f", slope, x, y)
			}
		}
	}
}

// onPaper lays the overlay over a sheet whose left is pale and right is dark,
// so that casings and halos show.
func onPaper(over image.Image) *image.RGBA {
	out := image.NewRGBA(over.Bounds())
	draw.Draw(out, out.Rect, image.NewUniform(color.RGBA{0xee, 0xea, 0xdc, 0xff}), image.Point{}, draw.Src)
	right := out.Rect
	right.Min.X = right.Dx() * 2 / 3
	draw.Draw(out, right, image.NewUniform(color.RGBA{0x6b, 0x74, 0x5e, 0xff}), image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, over, image.Point{}, draw.Over)
	return out
}

func compareGolden(t *testing.T, name string, got *image.RGBA) {
	t.Helper()
	path := filepath.Join("testdata", name+".png")
	if *update {
		writePNG(t, path, got)
		return
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatalf("no golden picture, write it with -update: %v", err)
	}
	defer f.Close()
	want, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if want.Bounds() != got.Bounds() {
		t.Fatalf("size: got %v, want %v", got.Bounds(), want.Bounds())
	}
	if n, most := differing(got, want); float64(n) > goldenShare*float64(len(got.Pix)/4) {
		failed := filepath.Join("testdata", "failed", name+".png")
		writePNG(t, failed, got)
		t.Errorf("%d pixels differ by more than %d (at most by %d): see %s", n, goldenStep, most, failed)
	}
}

// differing counts the pixels that differ by more than goldenStep.
func differing(got *image.RGBA, want image.Image) (n, most int) {
	b := got.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			w := color.RGBAModel.Convert(want.At(x, y)).(color.RGBA)
			g := got.RGBAAt(x, y)
			d := max(apart(g.R, w.R), apart(g.G, w.G), apart(g.B, w.B), apart(g.A, w.A))
			most = max(most, d)
			if d > goldenStep {
				n++
			}
		}
	}
	return n, most
}

func apart(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }

func writePNG(t *testing.T, path string, img image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}
