package overlay

import (
	"bytes"
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/plan"
	"legwright/canvas/view"
)

func TestTextNeverCoversTheTarget(t *testing.T) {
	t.Parallel()
	l := newTextRenderer(textImages)
	rapid.Check(t, func(t *rapid.T) {
		pt := func(name string) view.ScreenPt {
			return view.ScreenPt{X: rapid.Float64Range(0, 1400).Draw(t, name+"x"), Y: rapid.Float64Range(0, 900).Draw(t, name+"y")}
		}
		a, b := pt("a"), pt("b")
		if a.Dist(b) < 1 {
			return
		}
		img, x, y := l.line("057°", "060° grid   1 240 m ± 20", a, b, 1, image.Pt(1400, 900), Beside{})
		for dy := -8; dy <= 8; dy++ {
			for dx := -8; dx <= 8; dx++ {
				if img.RGBAAt(int(b.X)+dx-x, int(b.Y)+dy-y).A != 0 && math.Hypot(float64(dx), float64(dy)) <= 8 {
					t.Fatalf("from %v to %v: ink %d,%d from the target", a, b, dx, dy)
				}
			}
		}
	})
}

func TestTextReadsFromLeftToRight(t *testing.T) {
	t.Parallel()
	for deg := 0; deg < 360; deg += 5 {
		s, c := math.Sincos(float64(deg) * math.Pi / 180)
		_, angle := along(view.ScreenPt{X: 500, Y: 500}, view.ScreenPt{X: 500 + 300*c, Y: 500 + 300*s}, 100, lift, 1, 1000, 1000)
		if math.Abs(angle) > math.Pi/2+1e-9 {
			t.Errorf("line at %d°: text at %.0f° stands on its head", deg, angle*180/math.Pi)
		}
	}
}

func TestLettersStayWithinTheirPicture(t *testing.T) {
	t.Parallel()
	l := newTextRenderer(textImages)
	for _, text := range []string{"", "057°", "ÅÉŷĝ|_", "日本", "Ḿ̂̂̂", "a\nb\x00", "±½ 1 240 m"} {
		for _, angle := range []float64{0, 0.4, -1.5, 3} {
			p := l.textImage(words{text: text, size: 14, angle: angle, ink: black})
			l.draw(p)
			b := p.img.Rect
			for x := range b.Dx() {
				if p.img.RGBAAt(x, 0).A != 0 || p.img.RGBAAt(x, b.Dy()-1).A != 0 {
					t.Errorf("%q at %v touches the edge of its picture", text, angle)
					break
				}
			}
		}
	}
}

func TestTextImagesAreBounded(t *testing.T) {
	t.Parallel()
	p := NewPainter()
	for i := range 500 {
		b := view.ScreenPt{X: 300 + float64(i), Y: 200}
		p.Along("057°", "060° grid", view.ScreenPt{X: 100, Y: 900 - float64(i)}, b, 1, 1400, 900, Beside{})
	}
	if n := len(p.live.textImages); n > liveTextImages+4 {
		t.Errorf("%d text images kept after 500 live texts, want at most %d", n, liveTextImages+4)
	}
}

// TestTextClearsNames drags lines of 80 to 400 pixels all round between two marks, past a third
// beside the line and a fourth that leaves the start no room for its name at the right: the text
// covers no name where it is written, and lies within two lifts of its line or level beside it.
func TestTextClearsNames(t *testing.T) {
	t.Parallel()
	const width, height = 260, setSize
	v := view.New(1400, 900, 1400, 900).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	img, p := image.NewRGBA(image.Rect(0, 0, 1400, 900)), NewPainter()
	p.prepare(img, 1)
	left := 0
	for length := 80.0; length <= 400; length += 40 {
		for deg := 0; deg < 360; deg += 5 {
			s, c := math.Sincos(float64(deg) * math.Pi / 180)
			from := pt(700, 450)
			to, third := pt(from.X+length*c, from.Y+length*s), pt(from.X+length/2*c-20*s, from.Y+length/2*s+20*c)
			d := newDrawing(p, v, Scene{Marks: []Mark{
				{Name: "Fork", At: pt(730, 445)}, {Name: "Skarvan cairn", At: from}, {Name: "Loch Ulla", At: to}, {Name: "Hut", At: third},
			}}, img.Rect)
			if len(d.named) < 3 {
				t.Fatalf("line of %v at %d°: %d names are written", length, deg, len(d.named))
			}
			a := v.ToScreen(from)
			at, _ := liveSpot(a, v.ToScreen(to), width, 1, image.Pt(1400, 900), Beside{Written: Written{Named: d.named}})
			far := math.Abs((at.mid.X-a.X)*s - (at.mid.Y-a.Y)*c)
			if at.angle != 0 && far > 2*liveLift+0.01 {
				t.Errorf("line of %v at %d°: the text lies %.0f px off", length, deg, far)
			}
			if covers(at.mid, at.angle, width, height, d.named) > 0 {
				t.Errorf("line of %v at %d°: a name is covered", length, deg)
			}
			for _, w := range d.texts {
				if w.textImage.of.text == "Skarvan cairn" && w.at.Max.X < int(a.X) {
					left++
				}
			}
		}
	}
	if left == 0 {
		t.Error("no name stands at the left of its mark: the test tries nothing")
	}
}

// A strip over the lower edge covers no text of a line that has room beside it.
func TestTextKeepsOffTheStrip(t *testing.T) {
	t.Parallel()
	strip := image.Rect(300, 750, 1100, 870)
	for x := 250.0; x <= 1150; x += 50 {
		for _, y := range []float64{400, 700, 740} {
			a, b := view.ScreenPt{X: 700, Y: y}, view.ScreenPt{X: x, Y: 800}
			if a.Dist(b) < 50 {
				continue
			}
			at, ok := liveSpot(a, b, 260, 1, image.Pt(1400, 900), Beside{Covered: strip})
			if !ok || covers(at.mid, at.angle, 260, setSize, []image.Rectangle{strip}) > 0 {
				t.Errorf("line from %v to %v: the text lies under the strip", a, b)
			}
		}
	}
	if at, ok := liveSpot(view.ScreenPt{X: 600, Y: 760}, view.ScreenPt{X: 700, Y: 850}, 260, 1, image.Pt(1400, 900), Beside{Covered: image.Rect(200, 600, 1200, 900)}); ok {
		t.Errorf("a line under the strip: got a text at %v, want none", at.mid)
	}
}

// Wherever a line is dragged, its text is seen whole, so that the mark of a
// reading with a stop at its beginning is never cut off; and where a line is long
// enough the text stays along it.
func TestTextIsSeenWhole(t *testing.T) {
	t.Parallel()
	l := newTextRenderer(textImages)
	area := image.Pt(720, 450)
	rapid.Check(t, func(t *rapid.T) {
		pt := func(name string) view.ScreenPt {
			return view.ScreenPt{X: rapid.Float64Range(0, 720).Draw(t, name+"x"), Y: rapid.Float64Range(0, 450).Draw(t, name+"y")}
		}
		a, b := pt("a"), pt("b")
		img, x, y := l.line("! 057°", "060° grid   1 240 m ± 20", a, b, 1.2, area, Beside{})
		for row := range img.Rect.Dy() {
			for col := range img.Rect.Dx() {
				if img.RGBAAt(col, row).A == 255 && !image.Pt(col+x, row+y).In(image.Rectangle{Max: area}) {
					t.Fatalf("from %v to %v: ink at %d, %d", a, b, col+x, row+y)
				}
			}
		}
	})
}

// A leg too short for its whole label keeps its bearing with the ±, and never one
// without it.
func TestShortLegKeepsItsBearing(t *testing.T) {
	t.Parallel()
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	paint := func(label string, length float64) *image.RGBA {
		l := Leg{From: view.PicPt{X: 60, Y: 200}, To: view.PicPt{X: 60 + length, Y: 200}, Label: label}
		return NewPainter().Paint(600, 400, v, 1, Scene{Legs: []Leg{l}})
	}
	const whole, bearing = "056° mag ± 14°  360 m ± 90", "056° mag ± 14°"
	for _, c := range []struct {
		length float64
		want   string
	}{{300, whole}, {180, bearing}, {90, ""}} {
		if got, want := paint(whole, c.length), paint(c.want, c.length); !bytes.Equal(got.Pix, want.Pix) {
			t.Errorf("a leg of %g pixels is not labelled %q", c.length, c.want)
		}
	}
}

// TestTextClearsNorths drags lines all round from a position with spread north lines: the
// text of the line covers neither their letters nor the note that says by how much they
// are spread, at either scale of the screen.
func TestTextClearsNorths(t *testing.T) {
	t.Parallel()
	k, p := classroom(t, 0), NewPainter()
	for _, px := range []float64{1, 1.5} {
		v := view.New(600, 400, 1400, 900).Fit()
		from := pt(300, 220)
		for length := 40.0; length <= 160; length += 40 {
			for deg := 0.0; deg < 360; deg += 15 {
				sin, cos := math.Sincos(deg * math.Pi / 180)
				to := pt(from.X+length*sin, from.Y-length*cos)
				n := k.Norths(from, norths())
				if n.Note == "" {
					t.Fatal("the norths are not spread: the test tries nothing")
				}
				p.Paint(1400, 900, v, px, Scene{Lesson: Lesson{Norths: n, Line: &LessonLine{From: from, To: to}}})
				at := p.Written().Norths
				if len(at) != 4 {
					t.Fatalf("%d texts of norths, want three letters and the note", len(at))
				}
				img, x, y := p.Along("057°", "grid ± 4°  055° mag  357 m ± 40", v.ToScreen(from), v.ToScreen(to), px, 1400, 900, Beside{Written: Written{Norths: at}})
				if img == nil || inkedIn(img, x, y, at) {
					t.Errorf("scale %v, %v pixels along %v°: the text covers a north's letter or the note", px, length, deg)
				}
			}
		}
	}
}

// inkedIn reports whether a picture with its corner at x, y has opaque ink in a box.
func inkedIn(img *image.RGBA, x, y int, boxes []image.Rectangle) bool {
	for _, b := range boxes {
		b = b.Sub(image.Pt(x, y)).Intersect(img.Rect)
		for row := b.Min.Y; row < b.Max.Y; row++ {
			for col := b.Min.X; col < b.Max.X; col++ {
				if img.RGBAAt(col, row).A == 255 {
					return true
				}
			}
		}
	}
	return false
}

// inkOf is what the letters of a text cover, without their casing.
func (d *drawing) inkOf(t textAt) image.Rectangle {
	mid := t.at.Min.Add(t.at.Max).Div(2)
	return d.letters(t.textImage.of, view.ScreenPt{X: float64(mid.X), Y: float64(mid.Y)})
}

// The letters of the norths are seen whole wherever a line begins on the sheet that is
// seen, right up to its edge; neither the note covers one nor a mark's name a north line.
func TestNorthLettersAreSeen(t *testing.T) {
	t.Parallel()
	k := classroom(t, 0)
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	seen := image.Rect(20, 10, 580, 390)
	for _, from := range []view.PicPt{pt(300, 12), pt(300, 60), pt(24, 200), pt(577, 380), pt(560, 90), pt(570, 70), pt(300, 200)} {
		img := image.NewRGBA(image.Rect(0, 0, 600, 400))
		p := NewPainter()
		s := Scene{Lesson: Lesson{Norths: k.Norths(from, norths()), Line: &LessonLine{From: from, To: pt(320, 300)}}}
		for i := range 8 {
			s.Marks = append(s.Marks, Mark{At: pt(from.X-40+10*float64(i), from.Y-20-12*float64(i)), Name: "Boulder"})
		}
		p.Onto(img, v, 1, s, seen)
		norths := p.Written().Norths
		last := len(norths) - 1
		if last < 1 || from == pt(300, 200) && last != 3 {
			t.Fatalf("from %v: %d texts of norths, want the letters and the note", from, len(norths))
		}
		for _, r := range norths[:last] {
			if note := norths[last]; !r.In(seen) || r.Overlaps(note) || !note.In(seen) {
				t.Errorf("from %v: the note at %v, a letter at %v, seen is %v", from, note, r, seen)
			}
		}
		p.prepare(img, 1)
		d := newDrawing(p, v, s, seen)
		for _, l := range s.Lesson.Norths.Lines {
			_, bend, tip := d.northAt(l)
			for f := 0.3; f < 1; f += 0.1 {
				at := image.Pt(int(bend.X+f*(tip.X-bend.X)), int(bend.Y+f*(tip.Y-bend.Y)))
				for _, w := range d.texts {
					if w.textImage.of.text == "Boulder" && at.In(w.at) {
						t.Errorf("from %v: a name at %v stands on the line of %v north", from, w.at, l.North)
					}
				}
			}
		}
	}
}

// The names of both ends of the lesson's line are written once each, also where norths and
// their letters crowd one of them.
func TestEndsOfTheLineAreNamed(t *testing.T) {
	t.Parallel()
	k := classroom(t, 0)
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	from := pt(300, 250)
	for deg := -10.0; deg <= 40; deg += 2 {
		for length := 40.0; length <= 160; length += 20 {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			to := pt(from.X+length*sin, from.Y-length*cos)
			s := Scene{
				Lesson: Lesson{Norths: k.Norths(from, norths()), Line: &LessonLine{From: from, To: to}},
				Marks:  []Mark{{ID: "a", At: from, Name: "Quay"}, {ID: "b", At: to, Name: "Wood corner"}},
			}
			img := image.NewRGBA(image.Rect(0, 0, 600, 400))
			p := NewPainter()
			p.prepare(img, 1)
			written := map[string]int{}
			for _, w := range newDrawing(p, v, s, img.Rect).texts {
				written[w.textImage.of.text]++
			}
			if written["Quay"] != 1 || written["Wood corner"] != 1 {
				t.Errorf("%v° and %v pixels: written %v", deg, length, written)
			}
		}
	}
}

// The text of a line shorter than itself, among names that leave no room along it, stands
// level and close to its end.
func TestTextOfAShortLineStandsNear(t *testing.T) {
	t.Parallel()
	const px = 1.5
	a, b := view.ScreenPt{X: 330, Y: 230}, view.ScreenPt{X: 455, Y: 296}
	names := []image.Rectangle{
		image.Rect(352, 232, 473, 256), image.Rect(410, 285, 528, 307), image.Rect(368, 183, 415, 208),
		image.Rect(128, 233, 306, 257), image.Rect(193, 183, 316, 207), image.Rect(263, 278, 386, 301),
	}
	got, ok := liveSpot(a, b, 410, px, image.Pt(790, 450), Beside{Written: Written{Named: names}})
	if off := got.mid.Y - b.Y; !ok || got.angle != 0 || off <= 0 || off > 1.5*liveLift*px {
		t.Errorf("it stands %.0f pixels below its end at %.2f rad, %v", off, got.angle, ok)
	}
}

// TestTextClearsThings drags lines all round past an escape, a hazard and a haven: the text of
// the line covers no name of theirs, at either scale of the screen, but would cover some if it
// did not know of them.
func TestTextClearsThings(t *testing.T) {
	t.Parallel()
	p := NewPainter()
	for _, px := range []float64{1, 1.5} {
		v := view.New(600, 400, 1400, 900).Fit()
		from, unknown := pt(300, 220), 0
		s := Scene{
			Escapes: []Escape{NewEscape("1", []view.PicPt{pt(200, 170), pt(310, 130), pt(390, 60)}, nil, "E03-1 to Shieling", false)},
			Hazards: []Shape{NewHazard("2", plan.Crag, true, []view.PicPt{pt(330, 230), pt(420, 230), pt(420, 290), pt(330, 290)}, "Black crag")},
			Havens:  []Shape{NewHaven("3", []view.PicPt{pt(220, 260)}, "Bothy")},
		}
		p.Paint(1400, 900, v, px, s)
		at := p.Written()
		if len(at.Named) < 4 || len(at.Norths) != 0 {
			t.Fatalf("%d boxes of names and %d of norths, want one for each level name and several along the escape", len(at.Named), len(at.Norths))
		}
		for length := 40.0; length <= 160; length += 40 {
			for deg := 0.0; deg < 360; deg += 15 {
				sin, cos := math.Sincos(deg * math.Pi / 180)
				a, b := v.ToScreen(from), v.ToScreen(pt(from.X+length*sin, from.Y-length*cos))
				write := func(by Beside) bool {
					img, x, y := p.Along("057°", "grid ± 4°  055° mag  357 m ± 40", a, b, px, 1400, 900, by)
					return img == nil || inkedIn(img, x, y, at.Named)
				}
				if write(Beside{Written: at}) {
					t.Errorf("scale %v, %v pixels along %v°: the text covers a name", px, length, deg)
				}
				if write(Beside{}) {
					unknown++
				}
			}
		}
		if unknown == 0 {
			t.Errorf("scale %v: no line comes near a name: the test tries nothing", px)
		}
		t.Logf("scale %v: %d of 96 texts would cover a name", px, unknown)
	}
}

// A leg whose text would cover that of the leg before has it elsewhere along it, and a
// short leg has its number at least.
func TestEveryLegHasItsText(t *testing.T) {
	t.Parallel()
	corner := pt(300, 200)
	for deg := 20.0; deg <= 310; deg += 10 { // from there on a short leg lies under the first text
		sin, cos := math.Sincos(deg * math.Pi / 180)
		far, near := pt(300+170*sin, 200-170*cos), pt(300+70*sin, 200-70*cos)
		for label, to := range map[string]view.PicPt{"2: 325° mag ± 2°  1120 m ± 30": far, "2: 325° mag ± 2°": near} {
			d := drawnOn(image.Pt(600, 400), Scene{Legs: []Leg{
				{ID: "a", From: pt(300, 30), To: corner, Label: "1: 180° mag ± 2°  900 m ± 30"}, {ID: "b", From: corner, To: to, Label: label},
			}})
			for _, number := range []string{"1", "2"} {
				if !slices.ContainsFunc(d.texts, func(at textAt) bool { return strings.Split(at.textImage.of.text, ":")[0] == number }) {
					t.Errorf("at %g°, %q: leg %s has no text", deg, label, number)
				}
			}
		}
	}
}

// Where names leave no room at all, nothing of them shows between the figures of the line: a
// name under a ± would be read as a figure. A text that covers no name has no plate. By night
// the plate is dark, for the letters are light.
func TestNoNameShowsBetweenTheFigures(t *testing.T) {
	t.Parallel()
	p, night := NewPainter(), NewPainter()
	night.SetNight(true)
	crowd := Beside{Written: Written{Named: []image.Rectangle{image.Rect(0, 0, 790, 450)}}}
	for _, px := range []float64{1, 1.5} {
		for deg := 0.0; deg < 360; deg += 15 {
			sin, cos := math.Sincos(deg * math.Pi / 180)
			a := view.ScreenPt{X: 400, Y: 230}
			b := a.Add(150*sin, -150*cos)
			for name, by := range map[string]Beside{"crowded": crowd, "free": {}} {
				img, x, y := p.Along("060°", "mag  063° grid  2310 m ± 30", a, b, px, 790, 450, by)
				at, ok := liveSpot(a, b, p.live.lineWidth("060°", "mag  063° grid  2310 m ± 30", px), px, image.Pt(790, 450), by)
				if img == nil || !ok {
					t.Fatalf("%s, at %g°: no text", name, deg)
				}
				lit := 0
				for off := -40.0; off <= 40; off++ {
					along := at.mid.Add(off*px*math.Cos(at.angle), off*px*math.Sin(at.angle))
					if img.RGBAAt(int(along.X)-x, int(along.Y)-y).A < 255 {
						lit++
					}
				}
				if (lit > 0) != (name == "free") {
					t.Errorf("scale %v, %s, at %g°: the sheet shows through at %d of 81 points", px, name, deg, lit)
				}
				dark, _, _ := night.Along("060°", "mag  063° grid  2310 m ± 30", a, b, px, 790, 450, by)
				if day, night := brightness(img), brightness(dark); name == "crowded" && (day < 160 || night > 95) {
					t.Errorf("scale %v, at %g°: the plate and its letters are %d bright by day and %d by night", px, deg, day, night)
				}
			}
		}
	}
}

// brightness is the mean green of the opaque pixels, 0 to 255.
func brightness(img *image.RGBA) int {
	sum, n := 0, 0
	for i := 0; i < len(img.Pix); i += 4 {
		if img.Pix[i+3] == 255 {
			sum, n = sum+int(img.Pix[i+1]), n+1
		}
	}
	return sum / max(n, 1)
}

// Near an edge that pushes the letters of the norths together, none lies over another:
// those without room of their own share a text.
func TestNorthLettersPushedTogether(t *testing.T) {
	t.Parallel()
	k := classroom(t, 0)
	v := view.New(600, 400, 600, 400).OneToOne(view.ScreenPt{})
	v = v.PanBy(-v.Offset().X, -v.Offset().Y)
	seen := image.Rect(20, 10, 580, 390)
	for _, px := range []float64{1, 2, 3} {
		for col := 400.0; col < 580; col += 4 {
			p, s := NewPainter(), Scene{Lesson: Lesson{Norths: k.Norths(pt(col, 300), norths())}}
			p.prepare(image.NewRGBA(image.Rect(0, 0, 600, 400)), px)
			d := newDrawing(p, v, s, seen)
			letters, last := "", len(d.texts)-1 // the note
			for i, a := range d.texts[:last] {
				letters += a.textImage.of.text
				for _, b := range d.texts[:i] {
					if d.inkOf(a).Overlaps(d.inkOf(b)) {
						t.Errorf("%v pixels, from column %v: %q and %q lie over each other", px, col, a.textImage.of.text, b.textImage.of.text)
					}
				}
			}
			if len(strings.ReplaceAll(letters, " ", "")) != 3 {
				t.Errorf("%v pixels, from column %v: the letters are %q", px, col, letters)
			}
		}
	}
}
