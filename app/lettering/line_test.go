package lettering

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/assets/look"
)

// shapes are the glyphs of a line, by face and number, spaces of any face alike
// and without what takes no room.
func shapes(l *Line) (out []glyph) {
	for i, g := range l.glyphs {
		space, _ := l.family.face(g.face).NominalGlyph(' ')
		switch end := append(l.glyphs, glyph{x: float32(l.width)})[i+1].x; {
		case g.id != space:
			out = append(out, glyph{id: g.id, face: g.face})
		case g.x != end:
			out = append(out, glyph{})
		}
	}
	return out
}

// stand is the line of letters that stand side by side as they are written
// here, without being joined or turned round.
func stand(s *Setter, text string) []glyph {
	l := &Line{family: s.family(false)}
	for _, word := range strings.SplitAfter(text, " ") {
		i, _ := l.family.find([]rune(word)...)
		for _, r := range word {
			id, _ := l.family.face(i).NominalGlyph(r)
			l.glyphs = append(l.glyphs, glyph{id: id, face: i, x: float32(l.width)})
			l.width++
		}
	}
	return shapes(l)
}

// Letters from right to left stand in the order in which they are seen. The
// expected orders follow by hand from rules P2, P3, W2 to W7, N1, N2, I1, L2 and
// L4 of Unicode Standard Annex 9.
func TestLineOrdersAsSeen(t *testing.T) {
	t.Parallel()
	s := New()
	for _, c := range []struct{ name, text, want string }{
		{"latin", "Beinn Àrd 057°", "Beinn Àrd 057°"},
		{"cyrillic", "Гора 12", "Гора 12"},
		{"hebrew", "אבג", "גבא"},
		{"hebrew, then latin", "אב ab", "ab בא"},
		{"latin, then hebrew", "ab אב", "ab בא"},
		{"number within hebrew, latin line", "ab אב 12 גד", "ab דג 12 בא"},
		{"number within hebrew", "אב 12 גד", "דג 12 בא"},
		{"number after hebrew, latin line", "ab אב 12", "ab 12 בא"},
		{"number after hebrew, then latin", "ab אב 12 m", "ab 12 בא m"},
		{"degrees after hebrew, latin line", "ab אב 12° m", "ab 12° בא m"},
		{"two stretches", "אב ab גד cd", "cd דג ab בא"},
		{"latin first, two stretches", "cd אב ab גד", "cd בא ab דג"},
		{"brackets are mirrored", "אב(ג)", "(ג)בא"},
		{"a code after hebrew, latin line", "ab אב 1 山", "ab 1 בא [5C71]"},
		{"a code within hebrew", "אב 山 גד", "דג [5C71] בא"},
		{"from another font, latin line", "ab אב гд", "ab בא гд"},
	} {
		if got, want := shapes(s.Line(c.text, false)), stand(s, c.want); !slices.Equal(got, want) {
			t.Errorf("%s: got %v, want %v", c.name, got, want)
		}
	}
}

// Arabic letters take the shape that they have beside their neighbours. The
// expected presentation forms, from right to left, are written out by hand from
// the joining types of the Unicode Standard, section 9.2; a letter alone is
// drawn as itself.
func TestArabicIsJoined(t *testing.T) {
	t.Parallel()
	s := New()
	for _, c := range []struct{ name, text, want string }{
		{"a mountain: jeem, beh, lam", "جبل", "\ufe9f\ufe92\ufede"},
		{"a valley: waw, alef, dal join only backwards", "واد", "واد"},
		{"a door: beh, alef, beh", "باب", "\ufe91\ufe8eب"},
		{"lam and alef are one letter", "لا", "\ufefb"},
		{"lam and alef after a letter", "بلا", "\ufe91\ufefc"},
		{"a hamza parts", "بءب", "بءب"},
		{"drawn out", "بـ", "\ufe91ـ"},
		{"of Persian", "گپ", "\ufb94\ufb57"},
		{"two words", "با بل", "\ufe91\ufe8e \ufe91\ufede"},
	} {
		want := stand(s, c.want)
		slices.Reverse(want)
		if got := shapes(s.Line(c.text, false)); !slices.Equal(got, want) {
			t.Errorf("%s: got %v, want %v", c.name, got, want)
		}
	}
}

// A letter that no font has stands as its code, and what cannot be seen takes
// no room.
func TestLineSpellsWhatCannotBeDrawn(t *testing.T) {
	t.Parallel()
	s := New()
	for _, c := range []struct{ text, want string }{
		{"日本", "[65E5][672C]"},
		{"top \U0001f9ed", "top [1F9ED]"},
		{"a\nb\tc", "a b c"},
		{"e\u0301", "é"},
		{"", ""},
	} {
		if got, want := shapes(s.Line(c.text, false)), shapes(s.Line(c.want, false)); !slices.Equal(got, want) {
			t.Errorf("%q: got %v, want %v", c.text, got, want)
		}
	}
	for _, text := range []string{"a\u200db", "a\ufe0fb", "a\u00adb", "\u202aab\u202c"} {
		if got, want := s.Line(text, false).Width(), s.Line("ab", false).Width(); math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: got %v wide, want %v", text, got, want)
		}
	}
}

// TestShapesAsHarfBuzz compares lines of one font with hb-shape of the HarfBuzz
// project, the reference for shaping: every glyph, and every place to a font
// unit.
func TestShapesAsHarfBuzz(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("hb-shape"); err != nil {
		t.Skip("wants hb-shape, of the package libharfbuzz-bin")
	}
	s, dir := New(), t.TempDir()
	for i, file := range [][]byte{look.Regular(), look.Wide()} {
		if err := os.WriteFile(filepath.Join(dir, string(rune('0'+i))), file, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, text := range []string{
		"AVATAR To We 1 240 m ± 20", "fi ffl office", "Beinn Àrd", "Γεφύρι", "Гора́ Чёрная", "بَبّ جِبَال", "السَّلام",
		"שָׁלוֹם", "הַר הַנֶּגֶב", "ẹ̀kọ́ ọ̀nà", "Ḿ̩a̋̂", "ქართული", "հայ",
	} {
		l := s.Line(text, false)
		face := l.glyphs[0].face
		out, err := exec.Command("hb-shape", "--font-file="+filepath.Join(dir, string(rune('0'+face))),
			"--no-glyph-names", "--no-clusters", "--output-format=json", "--text="+text).Output()
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		var want []struct {
			G, DX, DY, AX int
		}
		if err := json.Unmarshal(out, &want); err != nil || len(want) != len(l.glyphs) {
			t.Errorf("%q: got %d glyphs, want %s", text, len(l.glyphs), out)
			continue
		}
		em, x := s.family(false).face(face).em, 0
		for i, g := range l.glyphs {
			w := want[i]
			if g.face != face || int(g.id) != w.G || !near(g.x, float64(x+w.DX)/em) || !near(g.y, -float64(w.DY)/em) {
				t.Errorf("%q, glyph %d: got %v, want %v at %d of %v", text, i, g, w, x, em)
			}
			x += w.AX
		}
		if math.Abs(l.Width()*em-float64(x)) > 0.5 {
			t.Errorf("%q: got %v wide, want %d", text, l.Width()*em, x)
		}
	}
}

func near(a float32, b float64) bool { return math.Abs(float64(a)-b) < 1e-5 }

// TestKeepsNoMoreThanItMay sets many lines and letters and looks at what is
// kept.
func TestKeepsNoMoreThanItMay(t *testing.T) {
	t.Parallel()
	s := New()
	img := canvas(60, 30)
	for r := rune(0x400); r < 0x1400; r++ {
		s.Write(img, string(r), Style{Size: 13}, 4, 20, ink)
	}
	if n := len(s.lines) + len(s.earlier); n > 2*mostLines {
		t.Errorf("got %d lines kept, want at most %d", n, 2*mostLines)
	}
	if n := len(s.set(Style{Size: 13}).covers); n > mostCovers {
		t.Errorf("got %d letters kept, want at most %d", n, mostCovers)
	}
	for i := range s.family(false).faces {
		if n := len(s.family(false).face(i).outlines); n > mostOutlines {
			t.Errorf("got %d outlines kept, want at most %d", n, mostOutlines)
		}
	}
}

// TestLineIsShapedOnce: a line wanted again is the one that was made.
func TestLineIsShapedOnce(t *testing.T) {
	t.Parallel()
	s := New()
	first := s.Line("057° mag", true)
	for i := range mostLines {
		s.Line(strings.Repeat("a", i%7)+string(rune('0'+i%10))+string(rune(0x100+i)), true)
		if s.Line("057° mag", true) != first {
			t.Fatalf("after %d other lines it was shaped anew", i+1)
		}
	}
	if s.At(1.5).Line("057° mag", true) != first {
		t.Error("another scale shaped it anew")
	}
}

// FuzzLine holds that any text becomes a line of finite width, that no letter
// is lost and that nothing panics.
func FuzzLine(f *testing.F) {
	for _, s := range []string{"ab אב 12 גד", "日本\n語", "\u202eab\u202c", "(א[ב])", "\xff\u05d0", "\u2029א", "بلا َ ab", "\ufefb", "e\u0301\u0323"} {
		f.Add(s)
	}
	s := New()
	f.Fuzz(func(t *testing.T, text string) {
		l := s.Line(text, false)
		if math.IsNaN(l.Width()) || math.IsInf(l.Width(), 0) {
			t.Fatalf("%q: got width %v", text, l.Width())
		}
		for _, g := range l.glyphs {
			if g.id == 0 {
				t.Fatalf("%q: an empty box is drawn", text)
			}
		}
		if len(l.glyphs) == 0 && text != "" {
			t.Fatalf("%q: nothing is left", text)
		}
	})
}
