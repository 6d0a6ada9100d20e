package gpx

import (
	"bytes"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"legwright/app/geodesy"
)

// Letters keep their accents and joined symbols stay whole when a name is cut.
func TestCutKeepsCharactersWhole(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text    string
		letters int
		want    string
	}{
		{"Càrn Mòr", 8, "Càrn Mòr"},
		{"Càrn Mòr", 7, "Càrn Mò"},
		{"Càrn Mòr", 5, "Càrn"},
		{"Ca\u0301rn", 2, "C"}, // accent beyond the cut: the letter goes with it
		{"Ca\u0301rn", 3, "Ca\u0301"},
		{"a👩\u200d🚒b", 3, "a"},
		{"a👩\u200d🚒b", 4, "a👩\u200d🚒"},
		{"山小屋の東", 3, "山小屋"},
		{"x", 0, ""},
	} {
		if got := cut(c.text, c.letters); got != c.want {
			t.Errorf("cut(%q, %d) = %q, want %q", c.text, c.letters, got, c.want)
		}
	}
	if got := clean("Ca\u0300rn"); got != "C\u00e0rn" {
		t.Errorf("clean composes to %q, want %q", got, "C\u00e0rn")
	}
}

// A name that is cut within a word ends before it where only a few of its letters are left.
func TestACutNameEndsInAWord(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"DRAFT E04-1 Cairn to Skelvig road", "DRAFT E04-1 Cairn to Skelvig"},
		{"Cairn above the lochan by the wall", "Cairn above the lochan by the"},
		{"Cairn above the lochan near the b", "Cairn above the lochan near"},
		{"Skelvig to Lochan Ullaidh by the", "Skelvig to Lochan Ullaidh by"},
		{"Skelvig quay to Beinn Orrach pillar", "Skelvig quay to Beinn Orrach"},
		{"Path over Meall Onnal to Bealach", "Path over Meall Onnal to Bealac"[:30]},
		{"Cairn to Skelvig road", "Cairn to Skelvig road"},
		{"Llanfairpwllgwyngyllgogerychwyrndrobwll", "Llanfairpwllgwyngyllgogerychwy"},
	} {
		if got := newNamer(30, false).name(c.text, "", ""); got != c.want {
			t.Errorf("%q becomes %q, want %q", c.text, got, c.want)
		}
	}
	if got := newNamer(10, false).name("Skelvig quay of stone", "", ""); got != "Skelvig qu" {
		t.Errorf("of 10 letters there is %q: too few to know the mark by", got)
	}
}

// A route back to its start names the same mark twice; another position of the
// same name gets a letter; routes and tracks keep to the limit too.
func TestOneNameForOnePlace(t *testing.T) {
	t.Parallel()
	at := geodesy.DegLatLon
	quay := Point{Name: "Skelvig quay", At: at(56.5, -8)}
	cairn := Point{Name: "Skelvig quay", At: at(56.6, -8)}
	d := &Document{
		Marks: []Point{quay},
		Routes: []Route{
			{Name: "Skelvig round", Points: []Point{quay, cairn, quay}},
			{Name: "Skelvig round", Points: []Point{cairn, quay}},
		},
	}
	got, err := Read(bytes.NewReader(written(t, d, Options{NameLimit: 10, Track: true})))
	if err != nil {
		t.Fatal(err)
	}
	a, b := got.Marks[0].Name, got.Routes[0].Points[1].Name
	if a == b || len([]rune(a)) > 10 || len([]rune(b)) > 10 {
		t.Errorf("two positions are named %q and %q", a, b)
	}
	for i, name := range []string{got.Routes[0].Points[0].Name, got.Routes[0].Points[2].Name, got.Routes[1].Points[1].Name} {
		if name != a {
			t.Errorf("visit %d of the mark is named %q, want %q", i, name, a)
		}
	}
	for _, list := range [][]Route{got.Routes, got.Tracks} {
		if x, y := list[0].Name, list[1].Name; x == y || len([]rune(x)) > 10 || len([]rune(y)) > 10 {
			t.Errorf("routes or tracks are named %q and %q, want two names of at most 10 letters", x, y)
		}
	}
}

// Values at the edge of what the schema allows stay valid: the date line,
// poles, letters that are none.
func TestEdgesAreValid(t *testing.T) {
	t.Parallel()
	tool, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("needs xmllint of libxml2-utils")
	}
	d := &Document{Title: "\x01edge\ufffe\u202e", Marks: []Point{
		{At: geodesy.DegLatLon(90, 180)},
		{At: geodesy.DegLatLon(-90, -180)},
		{At: geodesy.DegLatLon(0, 179.9999999999)},
		{Name: "\xff\x00", Desc: "]]>"},
	}}
	file := filepath.Join(t.TempDir(), "edge.gpx")
	text := written(t, d, Options{NameLimit: 4})
	if err := os.WriteFile(file, text, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(tool, "--noout", "--schema", filepath.Join("testdata", "gpx11.xsd"), file).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s\n%s", err, out, text)
	}
	back, err := Read(bytes.NewReader(text))
	if err != nil || len(back.Marks) != len(d.Marks) {
		t.Fatalf("read back: %v, %+v", err, back)
	}
	if lon := back.Marks[0].At.Lon.Deg(); math.Abs(lon+180) > 1e-9 {
		t.Errorf("the date line came back as %v, want -180", lon)
	}
}

// A long route of nameless points must not take the square of its length.
func TestManyAlikeNames(t *testing.T) {
	t.Parallel()
	names := newNamer(10, false)
	seen := map[string]bool{}
	for range 50_000 {
		seen[names.name("", "", "")] = true
	}
	if len(seen) != 50_000 {
		t.Errorf("got %d names, want 50000", len(seen))
	}
}

// However short the names of a receiver are, and whether it shows plain letters alone, a stop and
// a draft stand first in each, names stay apart, and what is read again has its own name.
func TestStopsSurviveShortNames(t *testing.T) {
	t.Parallel()
	at := func(i int) geodesy.LatLon { return geodesy.DegLatLon(56.5+float64(i)/1000, -8) }
	var d Document
	for i, name := range []string{"Ceann a' Chàirn Mhòir", "Ceann a' Chàirn Mhòir", "Łysa Góra", "Ψηλορείτης", "Белуха", "Żółw", "!quay", "STOP here", "山"} {
		stop := ""
		if i != 5 {
			stop = "STOP: sheet off"
		}
		d.Marks = append(d.Marks, Point{Name: name, Stop: stop, Desc: stop + "; cairn", At: at(i)})
	}
	points := []Point{{Name: "A", At: at(0)}, {Name: "B", At: at(1)}}
	d.Routes = []Route{
		{Name: "DRAFT E04-1 Path junction to Hut", Stop: "STOP: DRAFT", Desc: "STOP: DRAFT.", Points: points, Escape: true},
		{Name: "Round of the long bog", Stop: "STOP: in a danger", Desc: "STOP: in a danger.", Points: points},
		{Name: "Round of the long bog", Points: points},
	}
	for limit := 10; limit <= 30; limit++ {
		for _, plain := range []bool{false, true} {
			text := written(t, &d, Options{NameLimit: limit, Plain: plain, Track: true})
			raw, err := read(bytes.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			word := map[bool]string{true: "!", false: "STOP "}[limit < 12]
			seen := map[string]bool{}
			for i, m := range raw.Marks {
				letters, long := []rune(m.Name), utf8.RuneCountInString(m.Name) > limit
				if long || seen[strings.ToLower(m.Name)] || i != 5 && !strings.HasPrefix(m.Name, word) || i == 5 && strings.HasPrefix(m.Name, word) {
					t.Errorf("%d letters: %q is too long, there twice or without %q", limit, m.Name, word)
				}
				if plain && slices.ContainsFunc(letters, func(r rune) bool { return r < ' ' || r > '~' }) {
					t.Errorf("%q is no ASCII", m.Name)
				}
				seen[strings.ToLower(m.Name)] = true
			}
			for _, list := range [][]Route{raw.Routes, raw.Tracks} {
				draft := map[bool]string{true: "!E04-1", false: "DRAFT E"}[limit < 12]
				if !strings.HasPrefix(list[0].Name, draft) || !strings.HasPrefix(list[1].Name, word) || strings.HasPrefix(list[2].Name, word) {
					t.Errorf("%d letters: routes or tracks are named %q, %q, %q", limit, list[0].Name, list[1].Name, list[2].Name)
				}
			}
			got, err := Read(bytes.NewReader(text))
			if err != nil || !strings.HasPrefix(d.Marks[6].Name, got.Marks[6].Name) || got.Marks[5].Name != raw.Marks[5].Name {
				t.Errorf("%d letters: %v, %q comes back as %q", limit, err, d.Marks[6].Name, got.Marks[6].Name)
			}
		}
	}
}

// However short names are, a mark's own number stays at its end, none gets a number of another
// mark, and none looks like the name of another. A stop and a draft stay first.
func TestShortNamesKeepTheirNumbers(t *testing.T) {
	t.Parallel()
	wants := []struct{ name, end, stop string }{
		{"cairn 2", "2", ""},
		{"cairn 5", "5", ""},
		{"Long Ridge cairn 12", "12", ""},
		{"Long Ridge cairn 1", "1", "STOP: sheet off"},
		{"Long Ridge crag 12", "12", ""},
		{"cairn", "", ""},
		{"cairn above the hut", "", ""},
		{"cairn by the lochan", "", "STOP: sheet off"},
		{"Cairn 12 col", "", ""}, // cut to 7 letters it would be Cairn 1
		{"Cairn 1", "1", ""},
		{"cairn 5", "5", "STOP: sheet off"}, // elsewhere
		{"Überhöhe Steinmännchen 3", "3", ""},
		{"Überhöhe Steinmännchen 30", "30", ""},
		{"Łysa Góra kopiec 7", "7", ""},
		{"Ψηλορείτης κορυφή 4", "4", ""},
		{"Дальний гурий 8", "8", ""},
		{"山小屋の東のケルン 6", "6", ""},
		{"Ridge top IV", "IV", ""},
		{"Ridge top I", "I", ""},
		{"Quarry wall B", "B", ""},
		{"Gate 7b", "7b", "STOP: sheet off"},
		{"Skelvig gate 7", "7", ""},
		{"Skelvig gate 7", "7", ""},
		{"Skelvig gate 7", "7", "STOP: sheet off"},
		{"Spot 2745/7431 upper", "", ""},
		{"27457431 upper", "", "STOP: sheet off"},
		{"DRAFT Long Ridge hut 9", "9", "STOP: DRAFT"},
	}
	six := []string{"cairn2", "cairn5", "Long12", "!Long1", "Lon12b", "cairn", "cair-b", "!cai-b", "Cair-c", "Cairn1", "!cair5"}
	var d Document
	for i, w := range wants {
		d.Marks = append(d.Marks, Point{Name: w.name, Stop: w.stop, Desc: w.stop, At: geodesy.DegLatLon(56.5+float64(i)/1000, -8)})
	}
	d.Routes = []Route{{Name: "all", Points: d.Marks}}
	for limit := 6; limit <= 30; limit++ {
		for _, plain := range []bool{false, true} {
			raw, err := read(bytes.NewReader(written(t, &d, Options{NameLimit: limit, Plain: plain})))
			if err != nil {
				t.Fatal(err)
			}
			wholes := newNamer(limit, plain)
			seen := map[string]string{}
			for i, m := range raw.Marks {
				w := wants[i]
				if n := utf8.RuneCountInString(m.Name); n > limit || n == 0 {
					t.Errorf("%d letters: %q", limit, m.Name)
				}
				if marked(m.Name) != (w.stop != "") || raw.Routes[0].Points[i].Name != m.Name {
					t.Errorf("%d letters: %q is named %q and %q on the route, its stop %q", limit, w.name, m.Name, raw.Routes[0].Points[i].Name, w.stop)
				}
				if w.end != "" && !regexp.MustCompile(regexp.QuoteMeta(w.end)+"(-?[a-z])?$").MatchString(m.Name) {
					t.Errorf("%d letters: %q becomes %q without its own end %q", limit, w.name, m.Name, w.end)
				}
				if other, twice := seen[look(m.Name)]; twice {
					t.Errorf("%d letters: %q looks like %q", limit, m.Name, other)
				}
				seen[look(m.Name)] = m.Name
				for j, o := range wants {
					if look(m.Name) == look(wholes.wanted(o.name)) && look(wholes.wanted(w.name)) != look(wholes.wanted(o.name)) {
						t.Errorf("%d letters: %q becomes %q, which looks like mark %d, %q", limit, w.name, m.Name, j, o.name)
					}
				}
				if limit == 6 && !plain && i < len(six) && m.Name != six[i] {
					t.Errorf("%q becomes %q, want %q", w.name, m.Name, six[i])
				}
			}
		}
	}
}

// A file in which a point lies elsewhere, is missing or has lost its stop is not written.
func TestReadingBackRefuses(t *testing.T) {
	t.Parallel()
	d := made()
	text := string(written(t, d, Options{}))
	for what, change := range map[string][2]string{
		"moved":          {`lat="56.52"`, `lat="56.5201"`},
		"without a stop": {"<name>STOP ", "<name>"},
		"the same":       {"<rte>", "<!-- the same --><rte>"},
	} {
		if !strings.Contains(text, change[0]) {
			t.Fatalf("%s: nothing to change in %s", what, text)
		}
		err := readsBack([]byte(strings.ReplaceAll(text, change[0], change[1])), d, Options{})
		if wrong := what != "the same"; errors.Is(err, ErrReadBack) != wrong {
			t.Errorf("%s: %v", what, err)
		}
	}
	text = strings.ReplaceAll(text, "Bothan &lt;Ruisg&gt; &amp; Co", "Skelvig Quay")
	if err := readsBack([]byte(text), d, Options{}); !errors.Is(err, ErrReadBack) {
		t.Errorf("one name for two marks, only one of them with a stop: %v", err)
	}
	d.Marks = append(d.Marks, d.Marks[0])
	if err := readsBack([]byte(text), d, Options{}); !errors.Is(err, ErrReadBack) {
		t.Errorf("a missing point: %v", err)
	}
}
