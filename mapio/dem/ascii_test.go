package dem

import (
	"errors"
	"strings"
	"testing"

	"legwright/app/geodesy"
)

const britain = 27700

// small is three columns and two rows of posts in the middle of cells 50 m wide.
const small = `ncols         3
nrows         2
xllcorner     227000
yllcorner     743000
cellsize      50
NODATA_value  -1
10 20 30
-1 50.5 6e1
`

func TestASCII(t *testing.T) {
	t.Parallel()
	centred := strings.NewReplacer("xllcorner     227000", "XLLCENTER 227025", "yllcorner     743000", "yllcenter\t743025").Replace(small)
	for name, text := range map[string]string{
		"corner": small, "centre": centred, "byte order mark and Windows line ends": "\xef\xbb\xbf" + strings.ReplaceAll(small, "\n", "\r\n"),
		"one line": strings.Join(strings.Fields(small), " "),
	} {
		tile, err := open([]byte(text), "small.asc", Want{Grid: geodesy.EPSG(britain)})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		g := ground(t, tile)
		for _, c := range []struct {
			e, n, want float64
			ok         bool
		}{
			{227025, 743075, 10, true},
			{227125, 743025, 60, true},
			{227075, 743025, 50.5, true},
			{227050, 743075, 15, true},
			{227025, 743025, 0, false},
			{227030, 743040, 0, false},
			{227024, 743075, 0, false},
		} {
			if h, ok := g.Height(geodesy.Grid{E: c.e, N: c.n}); ok != c.ok || h != c.want {
				t.Errorf("%s, at %g %g: got %v, %v, want %v, %v", name, c.e, c.n, h, ok, c.want, c.ok)
			}
		}
	}
}

func TestASCIIRefused(t *testing.T) {
	t.Parallel()
	swap := func(old, text string) string { return strings.Replace(small, old, text, 1) }
	for name, c := range map[string]struct {
		text string
		want error
	}{
		"too few heights":    {strings.TrimSuffix(small, "6e1\n"), ErrDamaged},
		"too many heights":   {small + "70\n", ErrDamaged},
		"too many columns":   {strings.NewReplacer("20 30", "20 25 30", "50.5", "50.5 55").Replace(small), ErrDamaged},
		"a word for one":     {swap("50.5", "fifty"), ErrDamaged},
		"not a number":       {swap("50.5", "NaN"), ErrDamaged},
		"infinite":           {swap("50.5", "1e999"), ErrDamaged},
		"more than the file": {swap("nrows         2", "nrows 100000"), ErrDamaged},
		"half a column":      {swap("ncols         3", "ncols 3.5"), ErrDamaged},
		"no rows":            {swap("nrows         2\n", ""), ErrDamaged},
		"no spacing":         {swap("cellsize      50\n", ""), ErrNotTerrain},
		"no corner":          {swap("yllcorner     743000\n", ""), ErrNotTerrain},
		"a key twice":        {swap("cellsize", "ncols"), ErrDamaged},
		"a long word":        {swap("20", strings.Repeat("2", 200)), ErrDamaged},
		"a header alone":     {small[:60], ErrDamaged},
		"an endless header":  {"ncols 1 " + strings.Repeat("a 1 aa 2 aaa 3 ab 4 ac 5 ad 6 ae 7 af 8 ag 9 ah 10 ai 11 aj 12 ak 13 al 14 am 15 an 16", 1), ErrDamaged},
	} {
		if _, err := open([]byte(c.text), "small.asc", Want{Grid: geodesy.EPSG(britain)}); !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", name, err, c.want)
		}
	}
	if _, err := open([]byte(small), "small.asc", Want{}); !errors.Is(err, ErrNoGrid) {
		t.Errorf("without a grid: got %v, want ErrNoGrid", err)
	}
	unknown := (*geodesy.UnknownSystem)(nil)
	if _, err := open([]byte(small), "small.asc", Want{Grid: geodesy.EPSG(1)}); !errors.As(err, &unknown) {
		t.Errorf("with an unknown grid: got %v", err)
	}
}

// TestTooManyPosts: more posts than a model may have are refused before any is read.
func TestTooManyPosts(t *testing.T) {
	t.Parallel()
	head := strings.NewReplacer("ncols         3", "ncols 9000", "nrows         2", "nrows 9000").Replace(small)
	_, err := Open(t.Context(), strings.NewReader(head), 1<<40, "large.asc", Want{Grid: geodesy.EPSG(britain)})
	if !errors.Is(err, ErrTooLarge) {
		t.Errorf("9000 × 9000 posts: got %v, want ErrTooLarge", err)
	}
}
