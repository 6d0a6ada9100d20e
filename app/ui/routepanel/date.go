package routepanel

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"legwright/app/plan"
)

// Dates writes and reads dates as the system's locale does.
type Dates struct {
	layout string // of the package time; year, month and day with figures
	locale bool   // the layout is that of a locale, which says what 05/06 means
}

// isoLayout cannot be taken for anything else.
const isoLayout = "2006-01-02"

// LocalDates returns the dates of a locale: that of LC_ALL, or else of LC_TIME, or
// else of LANG, such as "de_DE.UTF-8". env returns a variable of the environment.
// Without a locale that is known here dates are written 2026-11-25.
func LocalDates(env func(string) string) Dates {
	for _, name := range []string{"LC_ALL", "LC_TIME", "LANG"} {
		if v := env(name); v != "" {
			return datesOf(v)
		}
	}
	return Dates{layout: isoLayout}
}

// datesOf returns the dates of a locale by its name.
func datesOf(locale string) Dates {
	name, _, _ := strings.Cut(locale, ".")
	name, _, _ = strings.Cut(name, "@")
	name = strings.ReplaceAll(name, "-", "_")
	language, _, _ := strings.Cut(name, "_")
	for _, key := range []string{name, language} {
		if layout, ok := layouts()[key]; ok {
			return Dates{layout, true}
		}
	}
	return Dates{layout: isoLayout}
}

// layouts are how locales write dates: those of the field d_fmt in the locales of
// glibc 2.36, with the year in four digits. A territory comes before its language.
func layouts() map[string]string {
	const slash, dots, dashes, american = "02/01/2006", "02.01.2006", "02-01-2006", "01/02/2006"
	out := map[string]string{
		"en_US": american, "en_PH": american, "fil": american, "tl": american,
		"en_CA": isoLayout, "fr_CA": isoLayout, "en_DK": isoLayout, "sv_SE": isoLayout, "hu": isoLayout, "lt": isoLayout, "se": isoLayout,
		"de_AT": isoLayout, "de_BE": isoLayout, "de_LU": isoLayout, "fr_LU": dots, "fr_CH": dots, "it_CH": dots,
		"nl": dashes, "da": dashes, "tr": dashes,
	}
	for _, l := range strings.Fields("de fi pl ru cs sk et hr ro bg mk sl sr bs be uk az kk nb nn no lb sv cy ga") {
		if out[l] == "" {
			out[l] = dots
		}
	}
	for _, l := range strings.Fields("en fr it es pt gl ca el gd gv kw he id ast oc an br eu af zu mi vi") {
		if out[l] == "" {
			out[l] = slash
		}
	}
	return out
}

// Format writes a date; "" for none.
func (d Dates) Format(day plan.Date) string {
	if day.IsZero() {
		return ""
	}
	return day.Time().Format(d.layout)
}

// Example is a date as it may be typed.
func (d Dates) Example() string {
	return d.Format(plan.Date{Year: 2026, Month: time.November, Day: 25})
}

// Parse reads a date as the locale writes it, year first, or with the month as a word.
// What could mean two days is refused.
func (d Dates) Parse(text string) (plan.Date, error) {
	if day, err := plan.ParseDate(text); err == nil {
		return day, nil
	}
	parts := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("./- ", r) })
	if len(parts) != 3 {
		return plan.Date{}, d.bad(text)
	}
	var n [3]int
	for i, p := range parts {
		v, err := strconv.Atoi(p)
		if err != nil {
			return plan.Date{}, d.bad(text)
		}
		n[i] = v
	}
	switch {
	case len(parts[0]) == 4:
		return d.valid(text, plan.Date{Year: n[0], Month: time.Month(n[1]), Day: n[2]})
	case len(parts[2]) != 4:
		return plan.Date{}, fmt.Errorf("%q has no four-digit year: type a date such as %s", text, d.Example())
	}
	return d.ordered(text, n)
}

// ordered reads a date whose year comes last, by the locale's order of day and month
// or by the only one that is possible.
func (d Dates) ordered(text string, n [3]int) (plan.Date, error) {
	dayFirst := plan.Date{Year: n[2], Month: time.Month(n[1]), Day: n[0]}
	monthFirst := plan.Date{Year: n[2], Month: time.Month(n[0]), Day: n[1]}
	american := strings.HasPrefix(d.layout, "01")
	switch {
	case !dayFirst.Valid(), d.locale && american && monthFirst.Valid():
		return d.valid(text, monthFirst)
	case !monthFirst.Valid(), d.locale && d.layout != isoLayout, dayFirst == monthFirst:
		return d.valid(text, dayFirst)
	}
	return plan.Date{}, fmt.Errorf("%q can mean %s or %s: type %s or %s", text,
		dayFirst.Words(), monthFirst.Words(), dayFirst, monthFirst)
}

func (d Dates) valid(text string, day plan.Date) (plan.Date, error) {
	if !day.Valid() {
		return plan.Date{}, d.bad(text)
	}
	return day, nil
}

func (d Dates) bad(text string) error {
	return fmt.Errorf("%q is not a date from %d to %d: type one such as %s", text, plan.MinYear, plan.MaxYear, d.Example())
}
