package rectify

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/calib/check"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/mapio/georef"
	"legwright/mapio/scan"
)

// TestIntersectionsLandWhereTheyShould rectifies made pictures of known geometry
// and looks for each intersection where the frame has it.
func TestIntersectionsLandWhereTheyShould(t *testing.T) {
	t.Parallel()
	cases := []struct {
		name   string
		at     seen
		kind   calib.Medium
		mpp    float64
		format Format
		tolPx  float64 // of the rectified map
	}{
		{"photograph, JPEG", askew, calib.Photograph, 0, JPEG, 0.3},
		{"photograph, coarser", askew, calib.Photograph, 2.6, PNG, 0.3},
		{"photograph", askew, calib.Photograph, 0, PNG, 0.2},
		{"photograph, finer", askew, calib.Photograph, 0.9, PNG, 0.3},
		{"turned scan", turned, calib.Scan, 0, PNG, 0.2},
		{"turned scan, affine", turned, calib.Scan, 1.2, PNG, 0.2},
		{"folded paper", folded, calib.Scan, 0, PNG, 0.2},
	}
	if testing.Short() {
		cases = cases[:1] // the goroutines are those of all cases; without -short all run
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s, points := madeOf(t, intersections(c.at, fineSquareM), c.kind)
			f, err := FrameOf(s.Calibration, madeW, madeH, c.mpp)
			if err != nil {
				t.Fatal(err)
			}
			m, _, err := image.Decode(bytes.NewReader(written(t, s, f, c.format)))
			if err != nil {
				t.Fatal(err)
			}
			worst, bent := 0.0, 0.0 // by the fit, and by the truth
			for _, p := range points {
				col, row := (p.Ref.E-f.West)/f.MetresPerPixel, (f.North-p.Ref.N)/f.MetresPerPixel
				x, y := darkest(m, col, row)
				bent = math.Max(bent, math.Hypot(x-col, y-row))
				g := s.Calibration.ToGrid(p.At)
				worst = math.Max(worst, math.Hypot(x-(g.E-f.West)/f.MetresPerPixel, y-(f.North-g.N)/f.MetresPerPixel))
			}
			if !(worst <= c.tolPx) || !(bent < 0.5) || len(points) < 20 {
				t.Errorf("of %d intersections the worst is %.3f px from where the fit has it and %.3f px from its reference, want at most %.2f and 0.5",
					len(points), worst, bent, c.tolPx)
			}
			t.Logf("%d × %d pixels at %g m, worst of %d intersections %.3f px, %.3f px from its reference", f.Cols, f.Rows, f.MetresPerPixel, len(points), worst, bent)
		})
	}
}

// TestReopened writes picture and world file, opens them as any picture is
// opened, and asks where an intersection lies by the world file: ESRI's six lines,
// the centre of the first pixel (as of the world file's own description).
func TestReopened(t *testing.T) {
	t.Parallel()
	files := []string{"out.png", "out.jpg", "out.jpeg"}
	if testing.Short() {
		files = files[:1] // a JPEG is written above, and scan races its own opening; without -short all
	}
	for _, name := range files {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, points := made(t, askew, calib.Photograph)
			f, err := FrameOf(s.Calibration, madeW, madeH, 0)
			if err != nil {
				t.Fatal(err)
			}
			format, err := FormatOf(name)
			if err != nil {
				t.Fatal(err)
			}
			dir := t.TempDir()
			for file, data := range map[string][]byte{name: written(t, s, f, format), WorldName(name): []byte(f.WorldFile(s.System))} {
				if err := os.WriteFile(filepath.Join(dir, file), data, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			got, err := scan.Open(context.Background(), os.DirFS(dir), name, scan.Options{})
			if err != nil {
				t.Fatal(err)
			}
			world := georef.Find(got.Geo).World
			if world == nil {
				t.Fatal("no world file was found")
			}
			if got.Header.Width != f.Cols || got.Header.Height <= f.Rows {
				t.Errorf("got %d × %d, want %d columns and more than %d rows", got.Header.Width, got.Header.Height, f.Cols, f.Rows)
			}
			if want := s.printDPI(f); math.Abs(got.Header.DPI-want) > 0.6 {
				t.Errorf("resolution: got %.1f, want %.1f", got.Header.DPI, want)
			}
			if want := s.support().worstM / 2; want < 0.1 || math.Abs(got.Header.PositionM-want) > 0.001*want {
				t.Errorf("the picture states a sigma of %g m, want %g", got.Header.PositionM, want)
			}
			for _, p := range points {
				x, y := darkest(got.Image, (p.Ref.E-f.West)/f.MetresPerPixel, (f.North-p.Ref.N)/f.MetresPerPixel)
				if e, n := world.At(x, y); math.Hypot(e-p.Ref.E, n-p.Ref.N) > 0.5*f.MetresPerPixel {
					t.Errorf("intersection %.0f %.0f reads %.2f %.2f", p.Ref.E, p.Ref.N, e, n)
				}
			}
		})
	}
}

// TestWorldFileInFeet: the figures of a world file are in the unit of the grid.
func TestWorldFileInFeet(t *testing.T) {
	t.Parallel()
	s, err := geodesy.Define("+proj=tmerc +lat_0=40 +lon_0=-74 +k=0.9999 +x_0=150000 +y_0=0 +datum=NAD83 +units=us-ft +no_defs")
	if err != nil {
		t.Fatal(err)
	}
	got := Frame{West: 1200, North: 3600, MetresPerPixel: 12 * 1200 / 3937.0, Cols: 10, Rows: 10}.WorldFile(s)
	// The first centre lies 6 ft from the corner; a US survey foot is 1200/3937 m (NIST SP 811, not checked against its text).
	if want := "12\n0\n0\n-12\n3943\n11805\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestWorldFileInDegrees: the last pixel lies where the frame has it, though a
// pixel is a small part of a degree.
func TestWorldFileInDegrees(t *testing.T) {
	t.Parallel()
	s, err := geodesy.Lookup(geodesy.EPSG(4326))
	if err != nil {
		t.Fatal(err)
	}
	f := Frame{West: -779_236, North: 6_275_300, MetresPerPixel: 0.517, Cols: 30_000, Rows: 20_000}
	w, err := georef.ParseWorld(strings.NewReader(f.WorldFile(s)))
	if err != nil {
		t.Fatal(err)
	}
	last, u := f.centre(29_999, 19_999), s.Unit().Metres
	if off := math.Hypot((w.A*29_999+w.C)*u-last.E, (w.E*19_999+w.F)*u-last.N); off > 0.01*f.MetresPerPixel {
		t.Errorf("the last pixel is %.3f m off", off)
	}
}

// TestGreyStaysGrey: a grey picture comes out in 8 bits of grey, and what is
// not trusted in it is struck through all the same.
func TestGreyStaysGrey(t *testing.T) {
	t.Parallel()
	s, points := made(t, turned, calib.Scan)
	var corner []calib.ControlPoint
	for _, p := range points {
		if p.At.Col < 300 && p.At.Row < 300 && len(corner) < 3 {
			corner = append(corner, p)
		}
	}
	var err error
	if s.Calibration, err = calib.Fit(corner, calib.Options{Medium: calib.Scan, Width: madeW, Height: madeH}); err != nil {
		t.Fatal(err)
	}
	colour, err := s.Cut(image.Rect(0, 0, madeW, madeH))
	if err != nil {
		t.Fatal(err)
	}
	grey := image.NewGray(colour.Rect)
	draw.Draw(grey, grey.Rect, colour, image.Point{}, draw.Src)
	mpp := 0.0 // the picture's own
	if testing.Short() {
		mpp = 4
	}
	f, err := FrameOf(s.Calibration, madeW, madeH, mpp)
	if err != nil {
		t.Fatal(err)
	}
	want, err := png.Decode(bytes.NewReader(written(t, s, f, PNG)))
	if err != nil {
		t.Fatal(err)
	}
	s.Cut, s.Grey = CutOf(grey), GreyOf(grey)
	m, err := png.Decode(bytes.NewReader(written(t, s, f, PNG)))
	if err != nil {
		t.Fatal(err)
	}
	got, ok := m.(*image.Gray)
	if !ok {
		t.Fatalf("got a picture of type %T", m)
	}
	struck := 0
	for y := range got.Rect.Dy() {
		for x := range got.Rect.Dx() {
			r, g, b, _ := want.At(x, y).RGBA()
			switch v := got.GrayAt(x, y).Y; {
			case r != g || g != b:
				struck++
				if y < f.Rows && v != 40 {
					t.Fatalf("%d, %d: %d grey where a slanting line is", x, y, v)
				}
			case v != uint8(r>>8):
				t.Fatalf("%d, %d: %d grey, want %d", x, y, v, r>>8)
			}
		}
	}
	if struck == 0 {
		t.Error("nothing is struck through: the test shows too little")
	}
	if GreyOf(colour) || !GreyOf(image.NewPaletted(grey.Rect, color.Palette{color.Black, color.Gray{90}})) ||
		GreyOf(image.NewPaletted(grey.Rect, color.Palette{color.Black, color.RGBA{9, 0, 0, 255}})) {
		t.Error("colours are taken for greys, or greys for colours")
	}
}

// TestOddSizes: pictures of a pixel, a row, a column, and of sizes that are no
// multiple of anything, are found again pixel for pixel where nothing is to be
// rectified.
func TestOddSizes(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	for _, size := range [][2]int{{1, 1}, {1, 300}, {300, 1}, {2, 2}, {3, 257}, {129, 63}, {255, 129}, {64, 128}, {67, 131}} {
		m := image.NewRGBA(image.Rect(0, 0, size[0], size[1]))
		for i := range m.Pix {
			m.Pix[i] = uint8(rng.Uint32() | 255*uint32(i%4/3))
		}
		points := []calib.ControlPoint{
			{At: calib.PicturePt{}, Ref: geodesy.Grid{E: 20_000, N: 740_000}},
			{At: calib.PicturePt{Col: 100, Row: 50}, Ref: geodesy.Grid{E: 20_200, N: 739_900}},
		}
		c, err := calib.Fit(points, calib.Options{Medium: calib.Scan, Width: size[0], Height: size[1]})
		if err != nil {
			t.Fatal(err)
		}
		f, err := FrameOf(c, size[0], size[1], 0)
		if err != nil || f.Cols != size[0] || f.Rows != size[1] || f.West != 20_000 || f.North != 740_000 {
			t.Fatalf("%v: got %+v, %v", size, f, err)
		}
		s := Sheet{Name: "odd.png", Width: size[0], Height: size[1], Cut: CutOf(m), System: system(t), Calibration: c}
		got, err := png.Decode(bytes.NewReader(written(t, s, f, PNG)))
		if err != nil {
			t.Fatal(err)
		}
		for y := range size[1] {
			for x := range size[0] {
				if ok, _ := c.Trusted(calib.PicturePt{Col: float64(x) + 0.5, Row: float64(y) + 0.5}); !ok {
					continue // struck through
				}
				if v := color.RGBAModel.Convert(got.At(x, y)); v != m.RGBAAt(x, y) {
					t.Fatalf("%v: %d, %d is %v, want %v", size, x, y, v, m.RGBAAt(x, y))
				}
			}
		}
	}
}

// TestDiskFull: what the writer says is the error, soon, whatever the format.
func TestDiskFull(t *testing.T) {
	t.Parallel()
	whole, _ := made(t, askew, calib.Photograph)
	s, f := corner(t, whole)
	full := errors.New("no space left")
	for _, format := range []Format{PNG, JPEG} {
		for _, room := range []int{0, 1000, 9000} {
			err := Write(context.Background(), &limited{room, full}, s, f, format, nil)
			if !errors.Is(err, full) {
				t.Errorf("format %d, %d bytes of room: got %v", format, room, err)
			}
		}
	}
}

// limited takes so many bytes and no more.
type limited struct {
	room int
	err  error
}

func (l *limited) Write(b []byte) (int, error) {
	if len(b) > l.room {
		return 0, l.err
	}
	l.room -= len(b)
	return len(b), nil
}

// TestPaperAround: what lies outside the picture is white.
func TestPaperAround(t *testing.T) {
	t.Parallel()
	whole, _ := made(t, turned, calib.Scan)
	s, f := corner(t, whole)
	m, err := png.Decode(bytes.NewReader(written(t, s, f, PNG)))
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []image.Point{{0, 0}, {f.Cols - 1, 0}, {0, f.Rows - 1}, {f.Cols - 1, f.Rows - 1}} {
		if got := color.RGBAModel.Convert(m.At(at.X, at.Y)); got != (color.RGBA{255, 255, 255, 255}) {
			t.Errorf("corner %v: got %v, want white", at, got)
		}
	}
	mid := s.Calibration.ToGrid(calib.PicturePt{Col: float64(s.Width) / 2, Row: float64(s.Height) / 2})
	x, y := int((mid.E-f.West)/f.MetresPerPixel), int((f.North-mid.N)/f.MetresPerPixel)
	if r, _, _, _ := m.At(x, y).RGBA(); r>>8 > 240 {
		t.Errorf("the middle is white")
	}
}

// TestUntrustedGroundIsStruckThrough: where the points do not reach, the picture is
// marked, and the words say so.
func TestUntrustedGroundIsStruckThrough(t *testing.T) {
	t.Parallel()
	all := intersections(askew, fineSquareM)
	var corner []calib.ControlPoint
	for _, p := range all {
		if p.At.Col < 420 && p.At.Row > 330 {
			corner = append(corner, p)
		}
	}
	fit := func(points []calib.ControlPoint) Sheet {
		c, err := calib.Fit(points, calib.Options{Medium: calib.Photograph, Width: madeW, Height: madeH})
		if err != nil {
			t.Fatal(err)
		}
		return Sheet{Name: "made.png", Width: madeW, Height: madeH, Cut: CutOf(dotted(all)), System: system(t), Calibration: c}
	}
	for _, c := range []struct {
		name  string
		sheet Sheet
		least bool // much is struck through
	}{{"all points", fit(all), false}, {"points in a corner", fit(corner), true}} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			f, err := FrameOf(c.sheet.Calibration, madeW, madeH, 3.6)
			if err != nil {
				t.Fatal(err)
			}
			m, err := png.Decode(bytes.NewReader(written(t, c.sheet, f, PNG)))
			if err != nil {
				t.Fatal(err)
			}
			struck := 0
			for y := range f.Rows {
				for x := range f.Cols {
					if color.RGBAModel.Convert(m.At(x, y)) == (color.RGBA{0xd5, 0x5e, 0, 255}) {
						struck++
					}
				}
			}
			part := float64(struck) / float64(f.Cols*f.Rows)
			if part > 0.05 != c.least {
				t.Errorf("%.1f %% of the pixels are slanting lines", 100*part)
			}
			for _, p := range c.sheet.Calibration.Points() {
				x, y := int((p.Ref.E-f.West)/f.MetresPerPixel), int((f.North-p.Ref.N)/f.MetresPerPixel)
				if color.RGBAModel.Convert(m.At(x, y)) == (color.RGBA{0xd5, 0x5e, 0, 255}) {
					t.Errorf("control point %v is struck through", p.Ref)
				}
			}
			said := strings.Contains(strings.Join(c.sheet.Words(f), " "), "struck through")
			if c.least && !said {
				t.Errorf("the words do not speak of it: %q", c.sheet.Words(f))
			}
		})
	}
}

// TestWordsInTheFile: fit, figures and whether the sheet is checked stand in the
// file, in a place its format has for text.
func TestWordsInTheFile(t *testing.T) {
	t.Parallel()
	s, _ := made(t, askew, calib.Photograph)
	s.Name = "Blatt \x07 Süd.png"
	s.Cautions = []string{"the map was laminated"}
	f, err := FrameOf(s.Calibration, madeW, madeH, 6)
	if err != nil {
		t.Fatal(err)
	}
	s.Verdict.Cautions = []caution.Caution{caution.Of(caution.Unchecked)}
	checked := s
	checked.Verdict = check.Verdict{Checked: true, By: "the listed feature in the top left", WithinM: 42}
	byFile, byFileChecked := s, checked
	if byFile.Calibration, err = calib.FromMatrix([6]float64{6, 0, 20_000, 0, -6, 750_000}, 0, 0); err != nil {
		t.Fatal(err)
	}
	byFileChecked.Calibration = byFile.Calibration
	file, err := FrameOf(byFile.Calibration, madeW, madeH, 6)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		sheet Sheet
		want  string
	}{{byFile, "own file; its accuracy has not been checked."}, {byFileChecked, "own file."}} {
		if words := c.sheet.Words(file); !slices.ContainsFunc(words, func(w string) bool { return strings.HasSuffix(w, c.want) }) {
			t.Errorf("positioned by its file: %q, want %q", words, c.want)
		}
	}
	stopped := s
	stopped.Verdict.Cautions = []caution.Caution{caution.Of(caution.EvidenceDisagree, "the printed grid in the middle", "60 m", "5 m"), caution.Of(caution.Unchecked)}
	for _, c := range []struct {
		name   string
		sheet  Sheet
		format Format
		want   []string
		not    string
	}{
		{"stopped", stopped, PNG, []string{"STOP: a check disagrees, map stretched too far.", "The printed grid in the middle is 60 m from where", "Cautions\x00evidence-disagrees"}, "Checked to"},
		{"PNG", s, PNG, []string{"The sheet is unchecked.", " control points, typical residual ", "± ", "Blatt □ Süd.png", "EPSG:27700", "The map was laminated."}, "Checked to"},
		{"JPEG", s, JPEG, []string{"The sheet is unchecked.", " control points, typical residual "}, "Checked to"},
		{"checked", checked, PNG, []string{"Checked to ± 42 m by the listed feature in the top left."}, "unchecked"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			data := written(t, c.sheet, f, c.format)
			for _, w := range c.want {
				if !bytes.Contains(data, []byte(w)) {
					t.Errorf("the file does not say %q", w)
				}
			}
			if bytes.Contains(data, []byte(c.not)) {
				t.Errorf("the file says %q", c.not)
			}
		})
	}
}

// TestWordsOfTheGrid: a grid that bends bearings, and one of an unknown datum, are
// told of, once.
func TestWordsOfTheGrid(t *testing.T) {
	t.Parallel()
	s, _ := made(t, turned, calib.Scan)
	f, err := FrameOf(s.Calibration, madeW, madeH, 0)
	if err != nil {
		t.Fatal(err)
	}
	for definition, want := range map[string]string{
		"EPSG:3857":  "Web Mercator stretches distances",
		"EPSG:27700": "",
		"+proj=tmerc +lat_0=56 +lon_0=-7 +k=1 +x_0=30000 +y_0=740000 +ellps=krass": "may be hundreds of metres out",
	} {
		sys, err := geodesy.Define(definition)
		if err != nil {
			t.Fatal(err)
		}
		s.System, s.Cautions = sys, nil
		if text := sys.Bends(); text != "" {
			s.Cautions = []string{text}
		}
		words := strings.Join(s.Words(f), "\n")
		switch {
		case want != "" && strings.Count(words, want) != 1:
			t.Errorf("%s: %q is not told once: %s", definition, want, words)
		case want == "" && (strings.Contains(words, "stretches distances") || strings.Contains(words, "hundreds of metres")):
			t.Errorf("%s: told of too much: %s", definition, words)
		}
	}
}

// TestRefused are scales and sizes that are refused in words.
func TestRefused(t *testing.T) {
	t.Parallel()
	s, _ := made(t, turned, calib.Scan)
	own := s.Calibration.MetresPerPixel()
	for _, c := range []struct {
		name string
		w, h int
		mpp  float64
		want string
		is   error
	}{
		{"too fine", madeW, madeH, own / 9, "type 0.179 to 28.6", nil},
		{"too coarse", madeW, madeH, own * 21, "type 0.179 to 28.6", nil},
		{"not a number", madeW, madeH, math.NaN(), "type", nil},
		{"negative", madeW, madeH, -1, "type", nil},
		{"too large", 30_000, 20_000, 0, "metres per pixel or more", ErrTooLarge},
	} {
		_, err := FrameOf(s.Calibration, c.w, c.h, c.mpp)
		if err == nil || !strings.Contains(err.Error(), c.want) || c.is != nil && !errors.Is(err, c.is) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		}
	}
	wide := Frame{West: 0, North: 0, MetresPerPixel: 1.43, Cols: MaxJPEGSide + 1, Rows: 1}
	if err := Write(context.Background(), new(bytes.Buffer), s, wide, JPEG, nil); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a JPEG of %d columns: got %v, want %v", wide.Cols, err, ErrTooLarge)
	}
	if _, err := FormatOf("out.tif"); err == nil {
		t.Errorf("out.tif: no error")
	}
}

// TestWhatTooLargeNames is possible.
func TestWhatTooLargeNames(t *testing.T) {
	t.Parallel()
	s, _ := made(t, turned, calib.Scan)
	for _, w := range []int{22_000, 30_000, 60_000} {
		_, err := FrameOf(s.Calibration, w, 20_000, 0)
		if err == nil {
			t.Fatalf("%d: no error", w)
		}
		_, rest, _ := strings.Cut(err.Error(), "type ")
		word, _, _ := strings.Cut(rest, " ")
		mpp := parse(t, word)
		if _, err := FrameOf(s.Calibration, w, 20_000, mpp); err != nil {
			t.Errorf("%d × 20000 at the %s m that are named: %v", w, word, err)
		}
	}
}

// TestCancel: the work ends with its context, and progress is reported.
func TestCancel(t *testing.T) {
	t.Parallel()
	s, _ := made(t, askew, calib.Photograph)
	f, err := FrameOf(s.Calibration, madeW, madeH, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, format := range []Format{PNG, JPEG} {
		ctx, cancel := context.WithCancelCause(context.Background())
		stop := errors.New("cancelled")
		told := 0
		err := Write(ctx, new(bytes.Buffer), s, f, format, func(done, all int) {
			told++
			if done <= 0 || done > all {
				t.Errorf("progress %d of %d", done, all)
			}
			cancel(stop)
		})
		if !errors.Is(err, stop) || told > 2 {
			t.Errorf("format %d: got %v after %d steps, want %v after 2 at most", format, err, told, stop)
		}
	}
}

// TestCutFails: a picture that cannot be read is an error, not paper.
func TestCutFails(t *testing.T) {
	t.Parallel()
	s, _ := made(t, askew, calib.Photograph)
	f, err := FrameOf(s.Calibration, madeW, madeH, 0)
	if err != nil {
		t.Fatal(err)
	}
	lost := errors.New("the drive is gone")
	s.Cut = func(image.Rectangle) (*image.RGBA, error) { return nil, lost }
	for _, format := range []Format{PNG, JPEG} {
		if err := Write(context.Background(), new(bytes.Buffer), s, f, format, nil); !errors.Is(err, lost) {
			t.Errorf("format %d: got %v, want %v", format, err, lost)
		}
	}
}

// TestHorizon: a photograph that shows the horizon is drawn as far as the fit
// stretches it no more than it may.
func TestHorizon(t *testing.T) {
	t.Parallel()
	far := func(e, n float64) calib.PicturePt { // the horizon is at row 150
		w := 1 + n/900
		return calib.PicturePt{Col: 450 + (e-500)*0.9/w, Row: 150 + 520/w}
	}
	points := []calib.ControlPoint{}
	for _, g := range [][2]float64{{300, 100}, {700, 100}, {300, 500}, {700, 500}, {500, 300}} {
		points = append(points, calib.ControlPoint{At: far(g[0], g[1]), Ref: geodesy.Grid{E: madeEast + g[0], N: madeNorth + g[1]}})
	}
	c, err := calib.Fit(points, calib.Options{Medium: calib.Photograph, Width: madeW, Height: madeH})
	if err != nil {
		t.Fatal(err)
	}
	f, err := FrameOf(c, madeW, madeH, 0)
	if err != nil {
		t.Fatal(err)
	}
	if f.Cols > 6*madeW || f.Rows > 6*madeH {
		t.Errorf("got %d × %d pixels for a picture of %d × %d", f.Cols, f.Rows, madeW, madeH)
	}
	beyond := 0.0
	for i := range 451 {
		for j := range 351 {
			p := calib.PicturePt{Col: 2 * float64(i), Row: 2 * float64(j)}
			if drawable(c, p) {
				g := c.ToGrid(p)
				col, row := (g.E-f.West)/f.MetresPerPixel, (f.North-g.N)/f.MetresPerPixel
				beyond = max(beyond, -col, -row, col-float64(f.Cols), row-float64(f.Rows))
			}
		}
	}
	if beyond > 1 {
		t.Errorf("what can be drawn lies up to %.1f px outside the frame", beyond)
	}
	s := Sheet{Name: "far.jpg", Width: madeW, Height: madeH, Cut: CutOf(dotted(points)), System: system(t), Calibration: c}
	if w := strings.Join(s.Words(f), " "); !strings.Contains(w, "left out") {
		t.Errorf("the words do not say what is left out: %s", w)
	}
	coarse, err := FrameOf(c, madeW, madeH, 4*f.MetresPerPixel)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := jpeg.Decode(bytes.NewReader(written(t, s, coarse, JPEG))); err != nil {
		t.Error(err)
	}
}
