package gpx

import (
	"fmt"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
)

// FromLegs is a plan's exported legs, marks and escapes as a document: the bench and
// the headless command write the same file. The cautions of the sheets, such as that one
// is unchecked, stand once in its description and in those of the routes, which
// receivers show by themselves; the stops of the points begin them.
func FromLegs(x leg.Exported, escapes []escape.Exported, date plan.Date) *Document {
	whole := make([]string, 0, len(x.Cautions)+1)
	for _, c := range x.Cautions {
		whole = append(whole, c.Text())
	}
	d := &Document{Title: x.Title, Marks: fromPoints(x.Marks)}
	all := slices.Clone(x.Cautions)
	for _, p := range slices.Concat(append(x.Routes, x.Marks)...) {
		all = append(all, p.Cautions...)
	}
	for _, e := range escapes {
		all = append(all, e.Cautions...)
	}
	d.Stop = caution.Lead(all, caution.All)
	if !date.IsZero() {
		d.Date = date.Time()
	}
	for i, r := range x.Routes {
		list := slices.Clone(x.Cautions)
		for _, p := range r {
			list = append(list, p.Cautions...)
		}
		lead := caution.Lead(list, caution.All)
		d.Routes = append(d.Routes, Route{Name: routeName(x, i), Desc: after(lead, whole...), Stop: lead, Points: fromPoints(r)})
	}
	for _, e := range escapes {
		lead := caution.Lead(append(slices.Clone(e.Cautions), x.Cautions...), caution.All)
		d.Routes = append(d.Routes, Route{Name: e.Name, Desc: after(lead, whole...), Stop: lead, Points: fromPoints(e.Points), Escape: true})
	}
	if x.Error != "" {
		whole = append(whole, x.Error+".")
	}
	d.Desc = strings.Join(whole, " ")
	return d
}

// routeName names the i-th route after the plan. Where there are several it begins
// with a number, because receivers cut off the end of a name. The route of a plan
// without a title is named after its ends.
func routeName(x leg.Exported, i int) string {
	r := x.Routes[i]
	switch {
	case strings.TrimSpace(x.Title) == "":
		return r[0].Name + " to " + r[len(r)-1].Name
	case len(x.Routes) > 1:
		return fmt.Sprintf("%d %s", i+1, x.Title)
	}
	return x.Title
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
