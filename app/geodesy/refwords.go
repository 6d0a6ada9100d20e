package geodesy

import (
	"regexp"
	"strings"
)

// plainWording turns what maps print beside digits into the letters and marks that
// are read: "482000mE 6089000mN", "Easting: 482000 Northing: 6089000",
// "Lat 56°10' North, Long 6°20' West". body is upper case.
func plainWording(body string) string {
	if strings.HasPrefix(body, latLonPrefix) {
		return body
	}
	body = strings.NewReplacer("EASTING", "E", "NORTHING", "N", "LATITUDE", "LAT", "LONGITUDE", "LON", "LONG", "LON",
		"NORTH", "N", "SOUTH", "S", "EAST", "E", "WEST", "W", ":", " ", "=", " ").Replace(body)
	if lat, lon := strings.Index(body, "LAT"), strings.Index(body, "LON"); lat >= 0 && lon >= 0 {
		a, b := body[lat+3:], body[lon+3:]
		if lat < lon {
			a = body[lat+3 : lon]
		} else {
			b = body[lon+3 : lat]
		}
		return latLonPrefix + strings.Trim(a, " .,;") + ", " + strings.Trim(b, " .,;")
	}
	return strings.TrimSpace(body)
}

// latLonPrefix marks bare numbers as latitude and longitude.
const latLonPrefix = "LATLON:"

// feetBehind are figures with feet behind them.
var feetBehind = regexp.MustCompile(`([0-9]) ?(?:US ?)?(?:FT|FEET)\b\.?`)

// inUnit drops the unit behind figures, and refuses one that is not the grid's.
func (ctx RefContext) inUnit(body string) (string, *RefError) {
	s, metres := ctx.System, withoutMetres(body)
	if s == nil || s.degrees() {
		return metres, nil
	}
	feet := feetBehind.ReplaceAllString(body, "$1")
	switch {
	case feet != body && s.Unit().Symbol() == "ft":
		return strings.TrimSpace(feet), nil
	case feet != body, metres != body && s.Unit().Metres != 1:
		return "", refusal("%s is in %s: type easting and northing in %s, or choose another grid", s.withArticle(), s.Unit().Plural(), s.Unit().Plural())
	}
	return metres, nil
}

// withoutMetres drops the M between a figure and the E or N that ends its number.
func withoutMetres(body string) string {
	for i := 1; i < len(body); i++ {
		before, after := strings.TrimRight(body[:i], " "), strings.TrimLeft(body[i+1:], " .")
		if body[i] != 'M' || !allDigits(before[max(len(before)-1, 0):]) || after == "" || after[0] != 'E' && after[0] != 'N' {
			continue
		}
		if rest := strings.TrimPrefix(after[1:], "."); rest == "" || rest[0] == ' ' || rest[0] == ',' {
			return before + string(after[0]) + withoutMetres(rest)
		}
	}
	return body
}
