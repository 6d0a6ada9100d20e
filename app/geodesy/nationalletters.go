package geodesy

import "strings"

// britishLetters are the two letters of the National Grid: 500 km squares
// lettered from a false origin, each of 25 squares of 100 km lettered A to Z
// without I from the north-west (OS guide, section 7). References run over 7
// by 13 squares.
type britishLetters struct{}

// twentyFive are the letters of a five by five block, row by row from the
// north-west.
const twentyFive = "ABCDEFGHJKLMNOPQRSTUVWXYZ"

const britishCols, britishRows = 7, 13

func (britishLetters) square(s *System, g Grid) (string, Grid, error) {
	col, row := floorSquare(g)
	if col < 0 || row < 0 || col >= britishCols || row >= britishRows {
		return "", Grid{}, outsideLetters(s, g)
	}
	// The false origin of the letters lies 1000 km west and 500 km south.
	c, r := col+10, row+5
	return string([]byte{
		twentyFive[(4-r/5)*5+c/5],
		twentyFive[(4-r%5)*5+c%5],
	}), cornerOf(col, row), nil
}

// britishSquare returns the corner of a square by its letters, upper case.
func britishSquare(letters string) (Grid, bool) {
	first, second := strings.IndexByte(twentyFive, letters[0]), strings.IndexByte(twentyFive, letters[1])
	if first < 0 || second < 0 {
		return Grid{}, false
	}
	col := first%5*5 + second%5 - 10
	row := (4-first/5)*5 + 4 - second/5 - 5
	if col < 0 || row < 0 || col >= britishCols || row >= britishRows {
		return Grid{}, false
	}
	return cornerOf(col, row), true
}

// irishLetters are the single letters of the Irish Grid: one block of 500 km
// lettered like the British ones.
type irishLetters struct{}

func (irishLetters) square(s *System, g Grid) (string, Grid, error) {
	col, row := floorSquare(g)
	if col < 0 || row < 0 || col >= 5 || row >= 5 {
		return "", Grid{}, outsideLetters(s, g)
	}
	i := (4-row)*5 + col
	return twentyFive[i : i+1], cornerOf(col, row), nil
}

// irishSquare returns the corner of a square by its letter, upper case.
func irishSquare(letter byte) (Grid, bool) {
	i := strings.IndexByte(twentyFive, letter)
	if i < 0 {
		return Grid{}, false
	}
	return cornerOf(i%5, 4-i/5), true
}

// plainOnly is the style of grids whose references have no letters. New Zealand's short
// references need the number of the printed sheet.
type plainOnly struct{ newZealand bool }

func (plainOnly) square(*System, Grid) (string, Grid, error) { return "", Grid{}, nil }
