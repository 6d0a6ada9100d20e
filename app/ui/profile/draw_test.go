package profile

import (
	"image"
	"image/color"
	"math"
	"testing"

	"legwright/app/terrain"
)

// made is a profile of evenly spaced heights, 10 m apart.
func made(heights ...float64) terrain.Profile {
	var p terrain.Profile
	for i, h := range heights {
		p.Points = append(p.Points, terrain.Point{AlongM: 10 * float64(i), HeightM: h})
	}
	return p
}

var (
	void  = math.NaN()
	paper = color.RGBA{255, 255, 255, 255}
	inks  = Ink{Ground: color.NRGBA{0, 0, 255, 255}, Line: color.NRGBA{0, 0, 0, 255}, Gap: color.NRGBA{255, 0, 0, 255}}
)

// drawn is a profile in a picture of w × h pixels.
func drawn(p terrain.Profile, s terrain.Span, w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	Draw(img, img.Rect, p, s, 1, inks)
	return img
}

// line is the row of the line in a column, −1 where none is drawn, and whether the column
// is a gap.
func line(img *image.RGBA, x int) (y int, gap bool) {
	y = -1
	for r := range img.Rect.Dy() {
		switch c := img.RGBAAt(x, r); {
		case c == color.RGBA{255, 0, 0, 255}:
			gap = true
		case y < 0 && c != paper:
			y = r
		}
	}
	return y, gap
}

// The highest and the lowest point of a profile reach the edges of the picture, also
// where many points share a column.
func TestExtremesReachTheEdges(t *testing.T) {
	t.Parallel()
	heights := make([]float64, 1001)
	for i := range heights {
		heights[i] = 100
	}
	heights[0], heights[507] = 0, 200
	p := made(heights...)
	s, _ := terrain.SpanOf(p)
	img := drawn(p, s, 50, 41)
	if y, _ := line(img, 25); y != 0 {
		t.Errorf("the summit is drawn in row %d, want 0", y)
	}
	if y, _ := line(img, 40); y != 20 {
		t.Errorf("half way up is drawn in row %d, want 20", y)
	}
	if s != (terrain.Span{LowM: 0, HighM: 200}) {
		t.Errorf("the span is %+v", s)
	}
}

// Points lie where they are along the way, however far apart: a summit 30 m from the start of
// 100 m stands at three tenths of the width.
func TestPointsLieAlongTheWay(t *testing.T) {
	t.Parallel()
	p := terrain.Profile{Points: []terrain.Point{{AlongM: 0}, {AlongM: 29}, {AlongM: 30, HeightM: 100}, {AlongM: 31}, {AlongM: 32}, {AlongM: 100}}}
	img := drawn(p, terrain.Span{LowM: 0, HighM: 100}, 100, 41)
	for x := range 100 {
		if y, _ := line(img, x); (y == 0) != (x >= 29 && x <= 31) { // the line leads down in the column behind it
			t.Errorf("column %d is drawn in row %d", x, y)
		}
	}
}

// Where heights are missing no line is drawn, however short the gap is.
func TestGapsAreNoGround(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		p    terrain.Profile
		w    int
		want string // a column each: g ground, x gap
	}{
		{"in the middle", made(5, 5, void, void, 5, 5), 10, "ggxxxxxxgg"},
		{"at the start", made(void, 5, 5), 4, "xxgg"},
		{"at the end", made(5, 5, void), 4, "ggxx"},
		{"narrower than a column", func() terrain.Profile {
			h := make([]float64, 1001)
			h[500] = void
			return made(h...)
		}(), 5, "ggxgg"},
		{"all of it", made(void, void), 3, "xxx"},
	} {
		img := drawn(c.p, terrain.Span{LowM: 0, HighM: 50}, c.w, 30)
		got := ""
		for x := range c.w {
			switch y, gap := line(img, x); {
			case gap && y < 0:
				got += "x"
			case !gap && y >= 0:
				got += "g"
			default:
				got += "?"
			}
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// Nearly level ground does not fill the picture, one span serves several profiles, and
// pictures apart share the widest rise.
func TestSpans(t *testing.T) {
	t.Parallel()
	level, steep := made(100, 104), made(300, void, 420)
	if s, ok := terrain.SpanOf(level); !ok || s != (terrain.Span{LowM: 100, HighM: 150}) {
		t.Errorf("level ground spans %+v", s)
	}
	if s, ok := terrain.SpanOf(level, made(void), steep); !ok || s != (terrain.Span{LowM: 100, HighM: 420}) {
		t.Errorf("together they span %+v", s)
	}
	if _, ok := terrain.SpanOf(terrain.Profile{}, made(void)); ok {
		t.Error("no heights have a span")
	}
	if got := WidestM(level, steep, made(void)); got != 120 {
		t.Errorf("the widest rise is %v, want 120", got)
	}
}
