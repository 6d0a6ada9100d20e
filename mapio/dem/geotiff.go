package dem

import (
	"context"
	"fmt"
	"image"
	"io"
	"math"

	"legwright/app/geodesy"
	"legwright/app/terrain"
	"legwright/mapio/georef"
	"legwright/mapio/tiff"
)

// The keys of OGC 19-008r4 for the system of heights and for their unit, codes of the EPSG
// dataset.
const (
	keyVertical      = 4096
	keyVerticalUnits = 4099
)

// bandSamples is how many posts of a GeoTIFF are decoded at a time, about.
const bandSamples = 2_000_000

func openTIFF(ctx context.Context, r io.ReaderAt, size int64, name string, want Want) (*terrain.Tile, error) {
	f, err := tiff.Open(r, size)
	if err != nil {
		return nil, err
	}
	page := f.Pages()[0]
	if err := page.Check(); err != nil {
		return nil, err
	}
	if page.Channels != 1 || page.Paletted || page.BitDepth < 16 {
		return nil, notTerrain("%s is a picture: terrain has one number of 16 bits or more for each height", name)
	}
	p, err := tiffPosts(page, name, want)
	if err != nil {
		return nil, err
	}
	win, err := p.window(want.Area)
	if err != nil {
		return nil, err
	}
	return p.readTIFF(ctx, page, win, want)
}

// tiffPosts is the lattice of a page: its posts are the centres of pixels.
func tiffPosts(page *tiff.Page, name string, want Want) (posts, error) {
	g := page.Geo()
	if g == nil {
		return posts{}, notTerrain("%s does not say where it lies: it has no GeoTIFF tags", name)
	}
	if err := unitOfHeights(g, want.Feet); err != nil {
		return posts{}, err
	}
	system, w, err := georef.OfTIFF(g)
	if err != nil {
		return posts{}, notTerrain("it is not clear where %s lies: %v", name, err)
	}
	const square = 1e-9 // of a pixel over the whole picture
	turned := max(math.Abs(w.B)*float64(page.Height), math.Abs(w.D)*float64(page.Width))
	if !(w.A > 0 && w.E < 0) || turned > square*min(w.A, -w.E) {
		return posts{}, notTerrain("%s is not stored with grid north at the top: export it again with grid north up", name)
	}
	e, n := w.At(0.5, 0.5)
	return posts{system, geodesy.Grid{E: e, N: n}, w.A, -w.E, page.Width, page.Height}, nil
}

// unitOfHeights refuses a file that states another unit than the caller, or one that is neither
// metres nor feet.
func unitOfHeights(g *tiff.Geo, feet bool) error {
	unit, _ := g.Number(keyVerticalUnits)
	system, _ := g.Number(keyVertical)
	inFeet := false
	switch unit {
	case 0: // the systems of heights in feet: NGVD29, Poolbeg, NAVD88 twice
		inFeet = system == 5702 || system == 5754 || system == 6360 || system == 8228
	case 9001:
		if feet {
			return wrongUnit("metres")
		}
	case 9002, 9003: // foot, US survey foot
		inFeet = true
	default:
		return fmt.Errorf("%w: the file gives them in unit %g of the EPSG dataset, neither metres nor feet; convert them to metres first", ErrUnit, unit)
	}
	if inFeet && !feet {
		return wrongUnit("feet")
	}
	return nil
}

// readTIFF reads a window in bands of whole strips or tiles.
func (p posts) readTIFF(ctx context.Context, page *tiff.Page, win image.Rectangle, want Want) (*terrain.Tile, error) {
	var t *terrain.Tile // once the file has shown that it holds what it claims
	rows := max(1, bandSamples/win.Dx())
	if h := page.ChunkHeight; h > 0 && h*win.Dx() <= tiff.MaxSamples {
		rows = max(1, rows/h) * h
	}
	for y := win.Min.Y; y < win.Max.Y; {
		next := min((y/rows+1)*rows, win.Max.Y)
		values, err := page.Samples(ctx, image.Rect(win.Min.X, y, win.Max.X, next))
		if err != nil {
			return nil, err
		}
		if t == nil {
			t = p.tile(win, want.unitM(), page.Format == tiff.Signed && page.BitDepth == 16)
		}
		put(t, (y-win.Min.Y)*t.Cols, values)
		y = next
		want.tell(y-win.Min.Y, win.Dy())
	}
	return t, nil
}

// put sets the posts from a place in the list on. Whole ones come from 16 bits, and fit.
func put(t *terrain.Tile, from int, values []float64) {
	for i, v := range values {
		none := math.IsNaN(v) || math.IsInf(v, 0)
		switch {
		case t.Whole == nil && none:
			t.Heights[from+i] = void
		case t.Whole == nil:
			t.Heights[from+i] = float32(v)
		case none:
			t.Whole[from+i] = terrain.NoHeight
		default:
			t.Whole[from+i] = int16(v)
		}
	}
}
