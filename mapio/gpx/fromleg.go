package gpx

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"legwright/app/leg"
	"legwright/app/plan"
)

// FromLegs is a plan's exported legs and marks as a document: the bench and
// the headless command write the same file. What must be said of the whole,
// such as that the sheet is unproved, goes into its description and those of the
// routes, which receivers show by themselves.
func FromLegs(x leg.Exported, date plan.Date) *Document {
	whole := sentences(x.Notes)
	d := &Document{Title: x.Title, Desc: strings.TrimSpace(whole + " " + sentences([]string{x.Error})), Marks: fromPoints(x.Marks)}
	if !date.IsZero() {
		d.Date = date.Time()
	}
	for i, r := range x.Routes {
		name := x.Title
		if len(x.Routes) > 1 {
			name = fmt.Sprintf("%s, part %d", x.Title, i+1)
		}
		d.Routes = append(d.Routes, Route{Name: name, Desc: whole, Points: fromPoints(r)})
	}
	return d
}

func fromPoints(list []leg.ExportPoint) []Point {
	out := make([]Point, len(list))
	for i, p := range list {
		out[i] = Point{Name: p.Name, Desc: p.Desc, At: p.At, Doubts: p.Doubts}
	}
	return out
}

// sentences writes notes as sentences, such as "The sheet is unproved.".
func sentences(notes []string) string {
	var out []string
	for _, n := range notes {
		first, size := utf8.DecodeRuneInString(n)
		word, _, _ := strings.Cut(n, " ")
		switch {
		case size == 0:
		case strings.Contains(word, "."): // the name of a file keeps its letters
			out = append(out, n+".")
		default:
			out = append(out, string(unicode.ToUpper(first))+n[size:]+".")
		}
	}
	return strings.Join(out, " ")
}
