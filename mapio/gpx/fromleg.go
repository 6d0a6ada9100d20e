package gpx

import (
	"fmt"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
)

// FromLegs is a plan's exported legs and marks as a document: the bench and
// the headless command write the same file. What speaks against the sheets, such as
// that one is unchecked, goes once into its description and those of the routes,
// which receivers show by themselves; the stops of their points begin these.
func FromLegs(x leg.Exported, date plan.Date) *Document {
	whole := make([]string, 0, len(x.Cautions)+1)
	for _, c := range x.Cautions {
		whole = append(whole, c.Text())
	}
	d := &Document{Title: x.Title, Marks: fromPoints(x.Marks)}
	all := slices.Clone(x.Cautions)
	for _, p := range slices.Concat(append(x.Routes, x.Marks)...) {
		all = append(all, p.Cautions...)
	}
	d.Stop = caution.Lead(all, caution.All)
	if !date.IsZero() {
		d.Date = date.Time()
	}
	for i, r := range x.Routes {
		name, list := x.Title, slices.Clone(x.Cautions)
		if len(x.Routes) > 1 {
			name = fmt.Sprintf("%s, part %d", x.Title, i+1)
		}
		for _, p := range r {
			list = append(list, p.Cautions...)
		}
		lead := caution.Lead(list, caution.All)
		d.Routes = append(d.Routes, Route{Name: name, Desc: after(lead, whole...), Stop: lead, Points: fromPoints(r)})
	}
	if x.Error != "" {
		whole = append(whole, x.Error+".")
	}
	d.Desc = strings.Join(whole, " ")
	return d
}

// after writes sentences after the stops that begin a text.
func after(lead string, sentences ...string) string {
	if lead != "" {
		sentences = append([]string{lead + "."}, sentences...)
	}
	return strings.Join(sentences, " ")
}

func fromPoints(list []leg.ExportPoint) []Point {
	out := make([]Point, len(list))
	for i, p := range list {
		out[i] = Point{Name: p.Name, Desc: p.Desc, Stop: caution.Lead(p.Cautions, caution.All), At: p.At, Cautions: p.Lasting}
	}
	return out
}
