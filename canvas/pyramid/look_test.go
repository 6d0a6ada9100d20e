package pyramid

import (
	"image"
	"math"
	"slices"
	"sync"
	"testing"
)

func TestLookValues(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		look     Look
		in, want uint8
	}{
		{Look{}, 77, 77},
		{Look{Contrast: 1}, 128, 130},            // 127.5 + 4·0.5 = 129.5
		{Look{Contrast: 1}, 200, 255},            // 417.5
		{Look{Contrast: 1}, 90, 0},               // −22.5
		{Look{Contrast: 0.5}, 100, 59},           // 127.5 − 2.5·27.5 = 58.75
		{Look{Contrast: -0.5}, 27, 77},           // 127.5 − 0.5·100.5 = 77.25
		{Look{Contrast: -1}, 3, 128},             // 127.5
		{Look{Fade: 0.5}, 55, 155},               // 55 + 100
		{Look{Fade: 1}, 0, 255},                  // all paper
		{Look{Invert: true}, 250, 5},             // 255 − 250
		{Look{Invert: true, Fade: 0.5}, 55, 100}, // (255 − 55)/2
		{Look{Contrast: 1, Invert: true}, 200, 0},
	} {
		got, g, b := newLook(c.look).colour(c.in, c.in, c.in)
		if g != got || b != got {
			t.Errorf("%+v: the grey %d becomes the colour %d, %d, %d", c.look, c.in, got, g, b)
		}
		if got != c.want {
			t.Errorf("%+v: %d becomes %d, want %d", c.look, c.in, got, c.want)
		}
	}
	held := Look{Contrast: math.NaN(), Fade: 7}.held()
	if held.Contrast != 0 || held.Fade != 1 {
		t.Errorf("NaN and 7 are held to %g and %g, want 0 and 1", held.Contrast, held.Fade)
	}
	pix := []uint8{10, 20, 30, 255, 0, 0, 0, 0, 60, 30, 0, 120}
	newLook(Look{Invert: true}).apply(pix)
	if want := []uint8{225, 235, 245, 255, 0, 0, 0, 0, 120, 90, 60, 120}; !slices.Equal(pix, want) {
		t.Errorf("inverted %v, want %v", pix, want)
	}
}

// TestInvertKeepsHue: hue and saturation of the HSL model, worked out here in
// floating point, stay; lightness is turned about its middle.
func TestInvertKeepsHue(t *testing.T) {
	t.Parallel()
	l := newLook(Look{Invert: true})
	for n := range 1 << 12 {
		r, g, b := uint8(n>>8*17), uint8(n>>4&15*17), uint8(n&15*17)
		h0, s0, l0 := hsl(r, g, b)
		h1, s1, l1 := hsl(l.colour(r, g, b))
		if math.Abs(h1-h0) > 1e-9 || math.Abs(s1-s0) > 1e-9 || math.Abs(l1-(1-l0)) > 1e-9 {
			t.Fatalf("%d, %d, %d: hue %g, saturation %g, lightness %g became %g, %g, %g", r, g, b, h0, s0, l0, h1, s1, l1)
		}
	}
}

// hsl is a colour in the HSL model of CSS Color Module Level 4, section 7: hue in
// degrees, saturation and lightness 0 to 1.
func hsl(r8, g8, b8 uint8) (h, s, l float64) {
	r, g, b := float64(r8)/255, float64(g8)/255, float64(b8)/255
	top, low := max(r, g, b), min(r, g, b)
	l = (top + low) / 2
	d := top - low
	if d == 0 {
		return 0, 0, l
	}
	s = d / (1 - math.Abs(2*l-1))
	switch top {
	case r:
		h = math.Mod((g-b)/d+6, 6)
	case g:
		h = (b-r)/d + 2
	default:
		h = (r-g)/d + 4
	}
	return 60 * h, s, l
}

// TestSetLook: tiles and regions of every form change, crops do not, and
// every level is announced once a change.
func TestSetLook(t *testing.T) {
	t.Parallel()
	for name, img := range someForms(600, 550) {
		var mu sync.Mutex
		var changed []int
		p := settled(t, New(img, Options{OnChange: func(n int) { mu.Lock(); changed = append(changed, n); mu.Unlock() }}))
		tile := func() []uint8 {
			p.Request([]Key{{0, 1, 0}}, nil)
			var m *image.RGBA
			until(t, "tile", func() bool { var ok bool; m, ok = p.Tile(Key{0, 1, 0}); return ok })
			return slices.Clone(m.Pix)
		}
		region := func() []uint8 {
			m := image.NewRGBA(image.Rect(0, 0, 80, 80))
			if err := p.Region(m, turned(0, 1, 512, 0), Nearest); err != nil {
				t.Fatal(err)
			}
			return m.Pix
		}
		plainTile, plainRegion, crop := tile(), region(), p.Crop(image.Rect(9, 9, 60, 60)).Pix
		look := Look{Contrast: 0.3, Fade: 0.2, Invert: true}
		p.SetLook(look)
		p.SetLook(look)
		newLook(look).apply(plainTile)
		newLook(look).apply(plainRegion)
		if !slices.Equal(tile(), plainTile) || !slices.Equal(region(), plainRegion) {
			t.Errorf("%s: tile or region does not have the look", name)
		}
		if !slices.Equal(p.Crop(image.Rect(9, 9, 60, 60)).Pix, crop) {
			t.Errorf("%s: the crop has changed", name)
		}
		if len(changed) != p.Levels() || p.Look() != look {
			t.Errorf("%s: changes %v, look %+v", name, changed, p.Look())
		}
		p.Close()
	}
}

// TestPreview: what is shown comes from the preview first and from the
// picture later; the change is announced only where it shows.
func TestPreview(t *testing.T) {
	t.Parallel()
	img := address(1600, 1200)
	true3 := settled(t, New(img, Options{}))
	want := all(t, true3)
	wrong := image.NewRGBA(image.Rect(0, 0, 200, 150))
	for i := range wrong.Pix {
		wrong.Pix[i] = []uint8{240, 230, 220, 255}[i%4]
	}
	right := &image.RGBA{Pix: want[3], Stride: 4 * 200, Rect: image.Rect(0, 0, 200, 150)}
	for _, c := range []struct {
		name    string
		preview *image.RGBA
		changes int // levels 3, 4 and 5 at most
	}{{"another picture", wrong, 3}, {"the level itself", right, 0}} {
		var mu sync.Mutex
		var changed []int
		p := NewPending(img.Rect.Size(), Options{OnChange: func(n int) { mu.Lock(); changed = append(changed, n); mu.Unlock() }})
		if p.Ready(0) || p.Ready(3) {
			t.Error("a level is ready before anything came")
		}
		p.Preview(3, image.NewGray(image.Rect(0, 0, 199, 150))) // of no level's size
		p.Preview(2, c.preview)
		p.Preview(-1, c.preview)
		if p.Ready(3) {
			t.Error("a preview of the wrong size was taken")
		}
		p.Preview(3, c.preview)
		if p.Ready(2) || !p.Ready(3) || !p.Ready(p.Levels()-1) || p.Stats().LevelsTrial != p.Levels()-3 {
			t.Errorf("%s: level 2 ready %v, 3 %v, %d on trial", c.name, p.Ready(2), p.Ready(3), p.Stats().LevelsTrial)
		}
		p.Request([]Key{{3, 0, 0}}, nil)
		until(t, "tile of the preview", func() bool { return p.Stats().Tiles == 1 })
		if m, _ := p.Tile(Key{3, 0, 0}); m.RGBAAt(5, 5) != c.preview.RGBAAt(5, 5) {
			t.Errorf("%s: tile shows %v", c.name, m.RGBAAt(5, 5))
		}
		p.Fill(img)
		settled(t, p)
		p.Preview(3, wrong) // too late
		sameAll(t, c.name, all(t, p), want)
		if len(changed) != c.changes || p.Stats().LevelsTrial != 0 {
			t.Errorf("%s: changes %v, want %d", c.name, changed, c.changes)
		}
		if _, ok := p.Tile(Key{3, 0, 0}); ok == (c.changes > 0) {
			t.Errorf("%s: the preview's tile is still there: %v", c.name, ok)
		}
	}
}

// TestFillRefuses: a picture of another size, a second one, and one after
// Close change nothing.
func TestFillRefuses(t *testing.T) {
	t.Parallel()
	var fault error
	p := NewPending(image.Pt(100, 80), Options{OnFault: func(err error) { fault = err }})
	p.Fill(address(100, 81))
	if fault == nil || p.Ready(0) {
		t.Errorf("another size: fault %v, ready %v", fault, p.Ready(0))
	}
	p.Fill(address(100, 80))
	p.Fill(image.NewGray(image.Rect(0, 0, 100, 80)))
	settled(t, p)
	if u, v := placeOf(p.Crop(image.Rect(50, 60, 51, 61)).RGBAAt(0, 0)); u != 50 || v != 60 {
		t.Errorf("the second picture replaced the first: (%d, %d)", u, v)
	}
	p.Close()
	p.Fill(address(100, 80))
	if p.Ready(0) {
		t.Error("ready after Close")
	}
}

// TestFarness: what is far from the screen leaves before what is near,
// whatever the order of use, and what is in hand leaves last.
func TestFarness(t *testing.T) {
	t.Parallel()
	p := NewPending(image.Pt(40000, 40000), Options{Budget: 4 * fullTile, Workers: 1})
	defer p.Close()
	p.Near(0, image.Rect(5000, 5000, 6400, 5900))
	c := &p.cache
	put := func(k Key) {
		p.mu.Lock()
		defer p.mu.Unlock()
		c.put(k, image.NewRGBA(image.Rect(0, 0, TileSize, TileSize)))
	}
	near, beside, coarse, far := Key{0, 10, 10}, Key{0, 13, 10}, Key{1, 5, 5}, Key{0, 60, 60}
	for _, k := range []Key{near, beside, coarse, far} {
		put(k)
	}
	put(Key{0, 11, 10})
	if c.has(far) || !c.has(near) {
		t.Errorf("far stays %v, near stays %v; want false, true", c.has(far), c.has(near))
	}
	put(Key{0, 11, 11})
	if c.has(coarse) || !c.has(near) || !c.has(beside) {
		t.Errorf("a coarser level stays %v, near %v, beside %v; want false, true, true", c.has(coarse), c.has(near), c.has(beside))
	}
	if p.Reserve(3 * fullTile); c.used > fullTile || p.Stats().ReservedBytes != 3*fullTile {
		t.Errorf("%d bytes of tiles beside %d reserved", c.used, p.Stats().ReservedBytes)
	}
	if p.Reserve(2*fullTile) || c.used != 0 {
		t.Errorf("more than the budget was reserved, %d bytes of tiles are left", c.used)
	}
	p.Unreserve(5 * fullTile)
	if put(far); !c.has(far) {
		t.Error("nothing fits after all was given back")
	}
}
