package geodesy

import (
	"math"
	"strconv"
	"strings"
)

// angleMarks are the marks of degrees, minutes and seconds, in that order.
const angleMarks = "°'\""

// angleField is one number of an angle with the mark after it, or 0.
type angleField struct {
	text string
	mark rune
}

// typedAngle is one coordinate as it was typed.
type typedAngle struct {
	text     string
	fields   []angleField
	letter   byte // of the hemisphere, or 0
	negative bool
	step     float64 // what one of the last figure stands for, degrees
	deg      float64
}

func (a typedAngle) isLongitude() bool { return a.letter == 'E' || a.letter == 'W' }
func (a typedAngle) isLatitude() bool  { return a.letter == 'N' || a.letter == 'S' }

// readAngle reads degrees, degrees and minutes, or degrees, minutes and
// seconds, with a sign or a hemisphere letter. A mark must fit its number. If
// the fields can be told apart but do not fit their marks, they are returned with the
// error, to be offered.
func readAngle(text string) (typedAngle, *RefError) {
	body, letter := takeLetter(strings.Trim(text, " ,"))
	a := typedAngle{text: strings.TrimSpace(text), letter: letter, negative: strings.HasPrefix(body, "-")}
	signed := a.negative || strings.HasPrefix(body, "+")
	if signed {
		body = body[1:]
	}
	if signed && letter != 0 {
		return a, refusal("%q has both a sign and a hemisphere letter; type only one of them", a.text)
	}
	var ok bool
	if a.fields, ok = angleFields(strings.ReplaceAll(body, "''", "\"")); ok {
		ok = a.measure()
	}
	if !ok {
		return a, refusal("%q is not an angle; type one such as 57.5, 57°30.5' or 57°30'12.5\"", a.text)
	}
	if why := a.misMarked(); why != "" {
		return a, refusal("%q: %s; type an angle such as 57.5, 57°30.5' or 57°30'12.5\"", a.text, why)
	}
	return a, nil
}

// takeLetter takes the hemisphere letter off either end.
func takeLetter(body string) (string, byte) {
	if body == "" {
		return "", 0
	}
	if strings.ContainsRune("NSEW", rune(body[0])) {
		return strings.TrimSpace(body[1:]), body[0]
	}
	if last := len(body) - 1; strings.ContainsRune("NSEW", rune(body[last])) {
		return strings.TrimSpace(body[:last]), body[last]
	}
	return body, 0
}

// angleFields takes an angle apart into numbers, each with its mark.
func angleFields(body string) ([]angleField, bool) {
	var fields []angleField
	for body = strings.TrimSpace(body); body != ""; body = strings.TrimSpace(body) {
		end := strings.IndexFunc(body, func(r rune) bool { return r != '.' && (r < '0' || r > '9') })
		if end < 0 {
			end = len(body)
		}
		f := angleField{text: body[:end]}
		if !isNumber(f.text) || len(fields) == 3 {
			return nil, false
		}
		body = strings.TrimLeft(body[end:], " ")
		for _, m := range angleMarks {
			if rest, ok := strings.CutPrefix(body, string(m)); ok {
				f.mark, body = m, rest
				break
			}
		}
		fields = append(fields, f)
	}
	return fields, len(fields) > 0
}

// measure adds up the fields in their order. It returns false if they are no angle: only the last may have a fraction, minutes and seconds have one or
// two digits and are below 60, degrees have up to three.
func (a *typedAngle) measure() bool {
	unit, step := 1.0, 1.0
	for i, f := range a.fields {
		v, err := strconv.ParseFloat(f.text, 64)
		figures, last := wholeDigits(f.text), i == len(a.fields)-1
		if err != nil || !last && !allDigits(f.text) || figures > 3 || i > 0 && (v >= 60 || figures > 2) {
			return false
		}
		a.deg += v * unit
		step = unit / math.Pow10(decimals(f.text))
		unit /= 60
	}
	if a.negative || a.letter == 'S' || a.letter == 'W' {
		a.deg = -a.deg
	}
	a.deg, a.step = a.deg+0, step // no −0
	return true
}

// bare reports whether a number other than the last has no mark, only a space after it.
func (a typedAngle) bare() bool {
	for i, f := range a.fields {
		if f.mark == 0 && i < len(a.fields)-1 {
			return true
		}
	}
	return false
}

// misMarked says what is wrong with the fields as they are split, or returns "".
func (a typedAngle) misMarked() string {
	marks := []rune(angleMarks)
	for i, f := range a.fields {
		if f.mark != 0 && f.mark != marks[i] {
			return "the mark " + string(f.mark) + " does not belong after " + f.text
		}
		if i > 0 && a.fields[i-1].mark == 0 && wholeDigits(f.text) != 2 {
			return "minutes and seconds without marks need two digits, such as 05"
		}
	}
	return ""
}

// onLine reports whether the angle is a whole half-minute and was typed in minutes,
// as a map prints its lines.
func (a typedAngle) onLine() bool {
	const halfMinutes, near = 120, 1e-7
	return len(a.fields) > 1 && math.Abs(math.Remainder(a.deg*halfMinutes, 1)) < near
}

// inOrder writes the angle with the marks that its numbers have by their order.
func (a typedAngle) inOrder() string {
	marks := []rune(angleMarks)
	text := ""
	for i, f := range a.fields {
		text += f.text + string(marks[i])
	}
	return a.signed(text)
}

// byMarks writes an angle of degrees and seconds with the minutes in between
// that its marks leave out, and any other as inOrder does.
func (a typedAngle) byMarks() string {
	if len(a.fields) == 2 && a.fields[0].mark == '°' && a.fields[1].mark == '"' {
		return a.signed(a.fields[0].text + "°00'" + a.fields[1].text + "\"")
	}
	return a.inOrder()
}

func (a typedAngle) signed(text string) string {
	if a.letter != 0 {
		return text + string(a.letter)
	}
	if a.negative {
		return "-" + text
	}
	return text
}
