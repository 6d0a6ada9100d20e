package files

import (
	"image"
	"image/color"
	"testing"
	"time"

	"legwright/app/ui/jobs"
	"legwright/canvas/pyramid"
)

// TestPieces: any rectangle is the picture's own, at its edges and across pieces,
// and again once the pieces have been dropped.
func TestPieces(t *testing.T) {
	t.Parallel()
	src := image.NewRGBA(image.Rect(0, 0, 700, 600))
	for y := range 600 {
		for x := range 700 {
			src.SetRGBA(x, y, color.RGBA{uint8(x), uint8(y), uint8(x/256*16 + y/256), 255})
		}
	}
	p := pyramid.New(src, pyramid.Options{})
	defer p.Close()
	if err := p.Wait(0); err != nil {
		t.Fatal(err)
	}
	cut := cutOf(p)
	for _, r := range []image.Rectangle{
		image.Rect(0, 0, 1, 1), image.Rect(0, 0, 700, 600), image.Rect(250, 250, 262, 262), image.Rect(255, 256, 513, 512),
		image.Rect(699, 599, 700, 600), image.Rect(512, 100, 700, 300),
	} {
		m, err := cut(r)
		if err != nil || m.Rect != (image.Rectangle{Max: r.Size()}) {
			t.Fatalf("%v: got %v, %v", r, m, err)
		}
		for y := range r.Dy() {
			for x := range r.Dx() {
				if got, want := m.RGBAAt(x, y), src.RGBAAt(r.Min.X+x, r.Min.Y+y); got != want {
					t.Fatalf("%v: pixel %d, %d is %v, want %v", r, x, y, got, want)
				}
			}
		}
	}
	c := &pieces{p: p, kept: map[image.Point]*image.RGBA{}}
	for i := range mostPieces + 5 {
		if _, err := c.piece(image.Pt(i%600, 0)); err != nil {
			t.Fatal(err)
		}
	}
	if len(c.kept) != mostPieces || len(c.order) != mostPieces {
		t.Errorf("%d and %d pieces are kept, want %d", len(c.kept), len(c.order), mostPieces)
	}
	p.Close()
	if _, err := c.piece(image.Pt(601, 0)); err == nil {
		t.Error("after closing: no error")
	}
}

// The time left is shown once it can be estimated, and rounded up.
func TestTimeLeft(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		took      time.Duration
		done, all int64
		want      string
	}{
		{900 * time.Millisecond, 50, 100, ""},
		{2 * time.Second, 25, 100, ", about 6 s left"},
		{2 * time.Second, 1, 3, ", about 4 s left"},
		{10 * time.Second, 1, 100, ", about 17 minutes left"},
		{10 * time.Second, 100, 100, ""},
		{10 * time.Second, 0, 100, ""},
	} {
		if got := timeLeft(c.took, jobs.Progress{Done: c.done, Total: c.all}); got != c.want {
			t.Errorf("%v, %d of %d: got %q, want %q", c.took, c.done, c.all, got, c.want)
		}
	}
}
