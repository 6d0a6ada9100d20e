package geodesy

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ErrOutsideLetters is wrapped by the error of coordinates for which the grid
// has no reference.
var ErrOutsideLetters = errors.New("outside the area that has grid references")

// ErrFigures is wrapped by the error of a number of figures that is not one of
// 2, 4, 6, 8 and 10.
var ErrFigures = errors.New("a reference has 2, 4, 6, 8 or 10 digits")

// refStyle is how a grid's references are lettered.
type refStyle interface {
	// square returns the letters of the 100 km square of g and its south-west
	// corner. Grids without letters return "".
	square(s *System, g Grid) (letters string, corner Grid, err error)
}

// FormatRef writes the reference of g with 2, 4, 6, 8 or 10 figures (both axes
// counted), spaced, such as "NN 123 456". Coordinates are snapped to 1 mm and
// then truncated, so the reference names the south-west corner of the square
// that holds g. Grids without letters write easting and northing in their
// printed unit, truncated alike, with ft behind feet; a grid of degrees writes latitude and
// longitude on WGS 84, whatever the figures. Errors wrap ErrFigures, ErrNotFinite or ErrOutsideLetters.
func (s *System) FormatRef(g Grid, figures int) (string, error) {
	return s.formatRef(g, figures, " ")
}

// FiguresOf returns how many digits, both axes counted, a reference to a square of
// this side in metres has: 2 to 10, the nearest if the side is not a power of ten.
func FiguresOf(squareM float64) int {
	return 2 * min(max(5-int(math.Round(math.Log10(max(squareM, 1)))), 1), 5)
}

// FormatRefCompact is FormatRef without spaces, such as "NN123456". Grids
// without letters put a comma between easting and northing, and no unit behind them.
func (s *System) FormatRefCompact(g Grid, figures int) (string, error) {
	return s.formatRef(g, figures, "")
}

func (s *System) formatRef(g Grid, figures int, gap string) (string, error) {
	if figures < 2 || figures > 10 || figures%2 != 0 {
		return "", fmt.Errorf("%d digits: %w", figures, ErrFigures)
	}
	if !g.IsFinite() {
		return "", ErrNotFinite
	}
	e, n := s.InUnits(g)
	g = Grid{E: snapMM(g.E), N: snapMM(g.N)}
	letters, corner, err := s.refs.square(s, g)
	if err != nil {
		return "", err
	}
	digits := figures / 2
	side := math.Pow10(5 - digits)
	if s.degrees() {
		return s.degreeRef(g, digits, gap)
	}
	if letters == "" {
		text := plainRef(Grid{E: snapMM(e), N: snapMM(n)}, side, gap)
		if gap == "" {
			return text, nil
		}
		return strings.TrimSpace(text + " " + s.Unit().Symbol()), nil
	}
	if gap == "" {
		letters = compactLetters(letters)
	}
	return fmt.Sprintf("%s%s%0*d%s%0*d", letters, gap,
		digits, truncated(g.E-corner.E, side), gap, digits, truncated(g.N-corner.N, side)), nil
}

// degreeRef writes the position on WGS 84, since that is what a latitude and
// longitude is read as. With fewer than five digits on an axis it has as many
// decimals: four are 11 m, as four digits are 10 m.
func (s *System) degreeRef(g Grid, digits int, gap string) (string, error) {
	ll, _, err := s.ToWGS84(g)
	if err != nil {
		return "", err
	}
	if digits == 5 {
		digits = mostDecimals
	}
	text := FormatLatLonTo(ll, digits)
	if gap == "" {
		text = strings.Replace(text, " ", ",", 1)
	}
	return text, nil
}

// truncated counts whole sides in a distance that was snapped to 1 mm; the
// snap is repeated because the subtraction of the corner may lose it.
func truncated(m, side float64) int { return int(math.Floor(snapMM(m) / side)) }

func snapMM(m float64) float64 { return math.Round(m*1000) / 1000 }

func plainRef(g Grid, side float64, gap string) string {
	if gap == "" {
		gap = ","
	}
	e, n := math.Floor(g.E/side)*side, math.Floor(g.N/side)*side
	return strconv.FormatFloat(e, 'f', 0, 64) + gap + strconv.FormatFloat(n, 'f', 0, 64)
}

func compactLetters(letters string) string {
	out := make([]byte, 0, len(letters))
	for i := range len(letters) {
		if letters[i] != ' ' {
			out = append(out, letters[i])
		}
	}
	return string(out)
}

func outsideLetters(s *System, g Grid) error {
	return fmt.Errorf("easting %.9g, northing %.9g on %s: %w", g.E, g.N, s.withArticle(), ErrOutsideLetters)
}

const squareM = 100000.0

// floorSquare returns the column and row of the 100 km square of g.
func floorSquare(g Grid) (col, row int) {
	return int(math.Floor(g.E / squareM)), int(math.Floor(g.N / squareM))
}

func cornerOf(col, row int) Grid { return Grid{E: float64(col) * squareM, N: float64(row) * squareM} }
