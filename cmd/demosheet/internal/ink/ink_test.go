package ink

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"testing"
)

var (
	white = color.RGBA{255, 255, 255, 255}
	black = color.RGBA{0, 0, 0, 255}
)

// cover returns the inked area in pixels and its centre.
func cover(c *Canvas) (area float64, centre Pt) {
	for y := range c.Pic.Rect.Dy() {
		for x := range c.Pic.Rect.Dx() {
			a := 1 - float64(c.Pic.RGBAAt(x, y).R)/255
			area += a
			centre.X += a * (float64(x) + 0.5)
			centre.Y += a * (float64(y) + 0.5)
		}
	}
	return area, Pt{centre.X / area, centre.Y / area}
}

func TestStrokesHaveTheirWidthAndPlace(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		draw   func(p *Pen)
		area   float64
		tol    float64
		centre Pt
	}{
		{"butt", func(p *Pen) { p.Butt([]Pt{{10.3, 20.7}, {60.3, 45.2}}, 4) }, 4 * math.Hypot(50, 24.5), 1, Pt{35.3, 32.95}},
		{"round", func(p *Pen) { p.Stroke([]Pt{{20, 50}, {80, 50}}, 10) }, 600 + 25*math.Pi, 4, Pt{50, 50}},
		{"corner", func(p *Pen) { p.Butt([]Pt{{20, 50}, {50, 50}, {50, 80}}, 6) }, 360 - 9 + 9*math.Pi/4, 2, Pt{42.4, 57.6}},
		{"disc", func(p *Pen) { p.Disc(Pt{50.25, 49.5}, 20) }, 400 * math.Pi, 6, Pt{50.25, 49.5}},
		{"dash", func(p *Pen) { p.Dash([]Pt{{10, 50}, {90, 50}}, 2, 10, 4) }, 2 * 60, 4, Pt{50, 50}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			canvas := NewCanvas(100, 100, white)
			pen := NewPen()
			c.draw(pen)
			canvas.Ink(pen, black, 1)
			area, centre := cover(canvas)
			if math.Abs(area-c.area) > c.tol {
				t.Errorf("area: got %.2f px², want %.2f within %v", area, c.area, c.tol)
			}
			if math.Hypot(centre.X-c.centre.X, centre.Y-c.centre.Y) > 0.3 {
				t.Errorf("centre: got %.2f, want %.2f within 0.3", centre, c.centre)
			}
		})
	}
}

func TestInkOutsideThePictureIsCut(t *testing.T) {
	t.Parallel()
	canvas := NewCanvas(20, 20, white)
	pen := NewPen()
	pen.Stroke([]Pt{{-30, -30}, {50, 50}}, 6)
	canvas.Ink(pen, black, 1)
	if got := canvas.Pic.RGBAAt(10, 10); got != black {
		t.Errorf("on the line: got %v, want black", got)
	}
}

func TestHaloBringsTheGroundBack(t *testing.T) {
	t.Parallel()
	canvas := NewCanvas(60, 60, white)
	canvas.Keep()
	line, halo := NewPen(), NewPen()
	line.Rect(0, 28, 60, 32)
	canvas.Ink(line, black, 1)
	halo.Disc(Pt{30, 30}, 10)
	canvas.Halo(halo)
	if got := canvas.Pic.RGBAAt(30, 30); got != white {
		t.Errorf("under the halo: got %v, want white", got)
	}
	if got := canvas.Pic.RGBAAt(5, 30); got != black {
		t.Errorf("beside the halo: got %v, want black", got)
	}
}

func TestPiecesEndOnADash(t *testing.T) {
	t.Parallel()
	line := []Pt{{0, 0}, {100, 0}, {100, 57}}
	pieces := Pieces(line, 17, 8)
	last := pieces[len(pieces)-1]
	if end := last[len(last)-1]; math.Hypot(end.X-100, end.Y-57) > 0.01 {
		t.Errorf("last dash: got its end at %v, want the end of the line", end)
	}
	for i, p := range pieces {
		if got := Length(p); math.Abs(got-Length(pieces[0])) > 0.01 {
			t.Errorf("dash %d: got %.2f px, want all of one length %.2f", i, got, Length(pieces[0]))
		}
	}
}

func TestTextHasWidthAndStandsOnItsLine(t *testing.T) {
	t.Parallel()
	face, err := Lettering("Regular")
	if err != nil {
		t.Fatal(err)
	}
	one, two := face.Width("H", 40, 3), face.Width("HH", 40, 3)
	if math.Abs(two-2*one-3) > 0.01 {
		t.Errorf("width: got %.2f and %.2f, want the second twice the first and 3", one, two)
	}
	canvas, pen := NewCanvas(100, 100, white), NewPen()
	face.Text(pen, "H", Pt{30, 70}, 0, 40, 0)
	canvas.Ink(pen, black, 1)
	for y := 71; y < 100; y++ {
		for x := range 100 {
			if canvas.Pic.RGBAAt(x, y) != white {
				t.Fatalf("ink at %d, %d, want none below the baseline", x, y)
			}
		}
	}
	if area, _ := cover(canvas); area < 100 {
		t.Errorf("ink: got %.0f px², want a letter", area)
	}
}

func TestPNGKeepsItsFewColours(t *testing.T) {
	t.Parallel()
	pic := image.NewRGBA(image.Rect(0, 0, 64, 64))
	for i := range 64 * 64 {
		pic.SetRGBA(i%64, i/64, color.RGBA{uint8(40 + i%64/8*20), uint8(60 + i/64/16*30), 90, 255})
	}
	data, err := EncodePNG(pic, 254)
	if err != nil {
		t.Fatal(err)
	}
	back, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 64 * 64 {
		got, want := color.RGBAModel.Convert(back.At(i%64, i/64)), pic.RGBAAt(i%64, i/64)
		if got != color.Color(want) {
			t.Fatalf("pixel %d: got %v, want %v", i, got, want)
		}
	}
}

func TestJPEGDecodesWithItsHeader(t *testing.T) {
	t.Parallel()
	data, err := EncodeJPEG(NewCanvas(32, 16, white).Pic, 90, 250)
	if err != nil {
		t.Fatal(err)
	}
	if cfg, err := jpeg.DecodeConfig(bytes.NewReader(data)); err != nil || cfg.Width != 32 || cfg.Height != 16 {
		t.Errorf("got %v, %v, want 32×16", cfg, err)
	}
}
