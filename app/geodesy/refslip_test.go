package geodesy

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"legwright/app/geodesy/earth"
)

// notation writes a position as people write it, with its marks, and how exact
// the text is: the largest distance, in metres, of what is read from the position.
type notation struct {
	name  string
	epsgs []int
	write func(r *rand.Rand, s *System, g Grid, ll LatLon) (text string, withinM float64)
}

// TestOneSlipIsNoOtherPosition types positions in each notation with one slip of
// punctuation: a comma for a point or a space; a mark missing, doubled or wrong;
// a space moved or missing. Each text is refused, or read as the position it was.
func TestOneSlipIsNoOtherPosition(t *testing.T) {
	t.Parallel()
	for i, n := range notations() {
		t.Run(n.name, func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(13, uint64(i)))
			slips, refused := 0, 0
			var asked []error // without a slip, with the ground known
			for range 2000 {
				s := mustLookup(n.epsgs[r.IntN(len(n.epsgs))])
				g, ll := anywhere(r, s)
				text, withinM := n.write(r, s, g, ll)
				if text == "" {
					continue
				}
				near := Grid{E: g.E + 40_000*(r.Float64()-0.5), N: g.N + 40_000*(r.Float64()-0.5)}
				for _, ctx := range []RefContext{{System: s}, {System: s, Near: &near}} {
					if ref, err := ParseRef(text, ctx); err != nil && ctx.Near != nil {
						asked = append(asked, err)
					} else if err == nil && far(ref, g) > withinM {
						t.Fatalf("%q on %v, without a slip: read %v, meant %v", text, s, ref.Grid, g)
					}
					slipped := slip(r, text)
					ref, err := ParseRef(slipped, ctx)
					slips++
					if err != nil {
						refused++
					} else if d := far(ref, g); !(d <= withinM) {
						t.Errorf("%q, from %q on %v, near %v: read %.0f m off", slipped, text, s, ctx.Near, d)
					}
				}
			}
			if len(asked) > 10 {
				t.Errorf("%d of 2000 positions typed correctly are refused, such as %v", len(asked), asked[0])
			}
			t.Logf("%d of %d slips were refused, the others read aright", refused, slips)
		})
	}
}

func far(r Ref, g Grid) float64 {
	c, _ := r.Centre()
	return distance(c, g)
}

// anywhere returns a position in the area of a grid, where it has references.
func anywhere(r *rand.Rand, s *System) (Grid, LatLon) {
	for {
		b := s.area[0]
		at := DegLatLon(b.South+r.Float64()*(b.North-b.South), b.West+r.Float64()*(b.East-b.West))
		g, _, err := s.Project(at)
		if err != nil || math.Abs(at.Lat.Deg()) > 83 {
			continue
		}
		if _, err := s.FormatRef(g, 10); err != nil {
			continue
		}
		if ll, _, err := s.ToWGS84(g); err == nil {
			return g, ll
		}
	}
}

func notations() []notation {
	lettered := func(gap bool) func(*rand.Rand, *System, Grid, LatLon) (string, float64) {
		return func(r *rand.Rand, s *System, g Grid, _ LatLon) (string, float64) {
			figures := 4 + 2*r.IntN(4)
			format := s.FormatRefCompact
			if gap {
				format = s.FormatRef
			}
			text, _ := format(g, figures)
			return text, math.Pow10(5-figures/2) * 0.71
		}
	}
	angles := func(signed bool, write func(r *rand.Rand, deg float64, places int) string, unitM float64) func(*rand.Rand, *System, Grid, LatLon) (string, float64) {
		return func(r *rand.Rand, _ *System, _ Grid, ll LatLon) (string, float64) {
			places := r.IntN(4)
			if unitM > 100_000 {
				places += 2
			}
			lat, lon := ll.Lat.Deg(), earth.WrapLon(float64(ll.Lon))*180/math.Pi
			a, b := write(r, math.Abs(lat), places), write(r, math.Abs(lon), places)
			withinM := unitM * math.Pow10(-places) * 0.72
			if signed {
				return minus(lat) + a + []string{" ", ", "}[r.IntN(2)] + minus(lon) + b, withinM
			}
			north, east := "N", "E"
			if lat < 0 {
				north = "S"
			}
			if lon < 0 {
				east = "W"
			}
			if r.IntN(3) == 0 {
				return north + a + " " + east + b, withinM
			}
			gap := []string{" ", ""}[r.IntN(2)]
			return a + gap + north + " " + b + gap + east, withinM
		}
	}
	unmarked := func(write func(r *rand.Rand, deg float64, places int) string) func(*rand.Rand, float64, int) string {
		return func(r *rand.Rand, deg float64, places int) string {
			return strings.TrimSpace(strings.NewReplacer("°", " ", "'", " ", "\"", "", "  ", " ").Replace(write(r, deg, places)))
		}
	}
	latlon := []int{27700, 29903, 2157, 2193, 32601, 32630, 32633, 32733, 3035, 25833}
	return []notation{
		{"letters", []int{27700, 29903}, lettered(true)},
		{"letters without spaces", []int{27700, 29903}, lettered(false)},
		{"MGRS", []int{32601, 32630, 32631, 32733, 32760}, lettered(true)},
		{"MGRS without spaces", []int{32601, 32630, 32631, 32733, 32760}, lettered(false)},
		{"zone, easting and northing", []int{32601, 32630, 32631, 32733, 32760}, zoned},
		{"easting and northing", []int{27700, 29903, 2157, 2193, 32601, 32630, 32733, 2056, 25833}, eastingNorthing},
		{"degrees", latlon, angles(false, degrees, 111_700)},
		{"degrees with signs", latlon, angles(true, degrees, 111_700)},
		{"degrees and minutes", latlon, angles(false, minutes, 1862)},
		{"degrees and minutes with signs", latlon, angles(true, minutes, 1862)},
		{"degrees, minutes and seconds", latlon, angles(false, seconds, 31.1)},
		{"degrees, minutes and seconds with signs", latlon, angles(true, seconds, 31.1)},
		{"degrees without marks", latlon, angles(false, unmarked(degrees), 111_700)},
		{"degrees and minutes without marks", latlon, angles(false, unmarked(minutes), 1862)},
		{"degrees, minutes and seconds without marks", latlon, angles(false, unmarked(seconds), 31.1)},
	}
}

func minus(v float64) string {
	if v < 0 {
		return "-"
	}
	return ""
}

func eastingNorthing(r *rand.Rand, _ *System, g Grid, _ LatLon) (string, float64) {
	places := r.IntN(3)
	e, n := fmt.Sprintf("%.*f", places, g.E), fmt.Sprintf("%.*f", places, g.N)
	switch r.IntN(4) {
	case 0:
		return e + ", " + n, 1.5
	case 1:
		return "E " + e + " N " + n, 1.5
	case 2:
		if places == 0 && len(e) < 6 && e[0] != '-' && len(n) == 6 {
			e = strings.Repeat("0", 6-len(e)) + e
		}
	}
	return e + " " + n, 1.5
}

// zoned writes a position as receivers do, with zone and band.
func zoned(r *rand.Rand, s *System, g Grid, _ LatLon) (string, float64) {
	letters, err := s.FormatRef(g, 2)
	if err != nil || g.E < 1e5 || g.N < 1e4 {
		return "", 0
	}
	form := []string{"%s %.0f %.0f", "%s %07.0f %07.0f", "%s %.0fE %.0fN"}[r.IntN(3)]
	return fmt.Sprintf(form, letters[:3], g.E, g.N), 0.8
}

func degrees(_ *rand.Rand, deg float64, places int) string {
	return fmt.Sprintf("%.*f°", places, deg)
}

func minutes(r *rand.Rand, deg float64, places int) string {
	unit := math.Pow10(places)
	n := math.Round(deg * 60 * unit)
	whole := math.Floor(n / 60 / unit)
	return fmt.Sprintf("%.0f°%s%0*.*f'", whole, gapOf(r), widthOf(places), places, n/unit-60*whole)
}

func seconds(r *rand.Rand, deg float64, places int) string {
	unit := math.Pow10(places)
	n := math.Round(deg * 3600 * unit)
	whole := math.Floor(n / 3600 / unit)
	n -= whole * 3600 * unit
	minutes := math.Floor(n / 60 / unit)
	gap := gapOf(r)
	return fmt.Sprintf("%.0f°%s%02.0f'%s%0*.*f\"", whole, gap, minutes, gap, widthOf(places), places, n/unit-60*minutes)
}

func gapOf(r *rand.Rand) string { return []string{"", " "}[r.IntN(2)] }

// widthOf is the width of a two-figure number with decimals.
func widthOf(places int) int {
	if places == 0 {
		return 2
	}
	return 3 + places
}

// slip makes one slip of punctuation somewhere in a text.
func slip(r *rand.Rand, text string) string {
	runes := []rune(text)
	for {
		at := r.IntN(len(runes))
		switch c := runes[at]; {
		case c == '.':
			return replaced(runes, at, ",")
		case c == ' ' && r.IntN(2) == 0:
			return replaced(runes, at, ",")
		case c == ' ' && r.IntN(2) == 0:
			return replaced(runes, at, "")
		case c == ' ':
			rest := []rune(replaced(runes, at, ""))
			to := r.IntN(len(rest) + 1)
			if near := at + r.IntN(5) - 2; r.IntN(2) == 0 && near >= 0 && near <= len(rest) {
				to = near
			}
			return string(slices.Insert(rest, to, ' '))
		case strings.ContainsRune(angleMarks, c):
			return replaced(runes, at, wrongMark(r, c))
		}
		if !strings.ContainsAny(text, ". °'\"") { // nothing to slip on but a space too many
			return string(slices.Insert(runes, at, ' '))
		}
	}
}

// wrongMark returns what may stand in a mark's stead: nothing, the mark twice,
// or another.
func wrongMark(r *rand.Rand, c rune) string {
	other := []rune(strings.ReplaceAll(angleMarks, string(c), ""))
	return []string{"", string(c) + string(c), string(other[r.IntN(2)]), " "}[r.IntN(4)]
}

func replaced(runes []rune, at int, by string) string {
	return string(runes[:at]) + by + string(runes[at+1:])
}
