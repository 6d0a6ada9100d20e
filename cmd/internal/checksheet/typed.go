package checksheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"legwright/app/geodesy"
)

// Notation is a way of typing a position.
type Notation string

// Notations lists the ways of typing positions.
func Notations() []Notation {
	return []Notation{"E N on UTM", "E N", "E N, decimals", "E … N …", "letters 6", "letters 8", "letters 10", "MGRS 8", "MGRS 10", "degrees", "signed degrees", "minutes", "seconds"}
}

// Typed is a position as it is typed, with one slip of punctuation or none.
type Typed struct {
	Text   string
	Code   geodesy.Code // of the sheet
	Ground Coord        // the true position on that grid
	Near   Coord        // ground of the sheet, where it has some already
	FineM  float64      // what the last figure stands for, metres
}

// Type draws a position and types it rightly.
func Type(n Notation, dice *rand.Rand) (Typed, error) {
	list := grounds()
	g := list[1]
	if strings.Contains(string(n), "UTM") || strings.HasPrefix(string(n), "MGRS") {
		g = list[0]
	}
	t := Typed{Code: g.Code, FineM: 1}
	t.Ground = Coord{g.West + (g.East-g.West)*dice.Float64(), g.South + (g.North-g.South)*dice.Float64()}
	t.Near = Coord{t.Ground.E + 1e4*dice.Float64(), t.Ground.N - 1e4*dice.Float64()}
	lat, lon, err := g.LatLon(t.Ground)
	e, w := "E", lon
	if lon < 0 {
		e, w = "W", -lon
	}
	switch n {
	case "E N on UTM", "E N":
		t.Text = fmt.Sprintf("%.0f %.0f", t.Ground.E, t.Ground.N)
	case "E N, decimals":
		t.Text = fmt.Sprintf("%.1f %.1f", t.Ground.E, t.Ground.N)
	case "E … N …":
		t.Text = fmt.Sprintf("E %.0f N %.0f", t.Ground.E, t.Ground.N)
	case "degrees":
		t.Text, t.FineM = fmt.Sprintf("%.5f°N %.5f°%s", lat, w, e), 1.2
	case "signed degrees":
		t.Text, t.FineM = fmt.Sprintf("latlon: %.5f %.5f", lat, lon), 1.2
	case "minutes":
		t.Text, t.FineM = minutesText(lat)+"N "+minutesText(w)+e, 19
	case "seconds":
		t.Text, t.FineM = secondsText(lat)+"N "+secondsText(w)+e, 31
	default:
		t.lettered(n, g)
	}
	return t, err
}

func (t *Typed) lettered(n Notation, g Ground) {
	digits := map[byte]int{'6': 3, '8': 4, '0': 5}[n[len(n)-1]]
	letters, corner := g.letters(t.Ground)
	t.FineM = math.Pow(10, 5-float64(digits))
	t.Text = fmt.Sprintf("%s %0*d %0*d", letters, digits, int((t.Ground.E-corner.E)/t.FineM), digits, int((t.Ground.N-corner.N)/t.FineM))
}

func minutesText(deg float64) string {
	m := math.Round(deg*60*100) / 100
	return fmt.Sprintf("%.0f°%05.2f'", math.Floor(m/60), m-60*math.Floor(m/60))
}

func secondsText(deg float64) string {
	s := int(math.Round(deg * 3600))
	return fmt.Sprintf("%d°%02d'%02d\"", s/3600, s/60%60, s%60)
}

const marks = "°'\""

// Punctuate puts one slip of punctuation into a text and says which; "" where the
// text has no room for the one that was drawn.
func (t *Typed) Punctuate(dice *rand.Rand) string {
	slips := []struct{ name, where string }{
		{"comma for point", "."},
		{"comma for blank", " "},
		{"mark missing", marks},
		{"mark doubled", marks},
		{"wrong mark", marks},
		{"blank missing", " "},
		{"blank moved", " "},
	}
	slip := slips[dice.IntN(len(slips))]
	var at []int
	runes := []rune(t.Text)
	for i, r := range runes {
		if strings.ContainsRune(slip.where, r) {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return ""
	}
	was := t.Text
	if t.Text = string(slipAt(slip.name, runes, at[dice.IntN(len(at))], dice)); t.Text == was {
		return ""
	}
	return slip.name
}

// slipAt puts a slip at one mark, point or blank.
func slipAt(name string, runes []rune, i int, dice *rand.Rand) []rune {
	switch name {
	case "comma for point", "comma for blank":
		runes[i] = ','
	case "mark missing", "blank missing":
		runes = append(runes[:i], runes[i+1:]...)
	case "mark doubled":
		runes = append(runes[:i+1], runes[i:]...)
	case "wrong mark":
		runes[i] = []rune(marks)[dice.IntN(3)]
	default:
		if j := i - 1 + 2*dice.IntN(2); j >= 0 && j < len(runes) {
			runes[i], runes[j] = runes[j], runes[i]
		}
	}
	return runes
}
