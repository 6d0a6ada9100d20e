package files

import (
	"slices"

	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/mapio/geojson"
)

// ownThings returns what shapes were in the plan that they were exported from, as the session
// imports it, and the shapes that do not say it: somebody must be asked about those. Escapes are
// counted and not imported.
func ownThings(name string, list []geojson.Shape) (in session.Imported, others []geojson.Shape) {
	in.Name = name
	for _, s := range list {
		first, o := session.ImportedPoint{}, s.Own
		if len(s.Points) > 0 {
			first = session.ImportedPoint{Name: s.Name, Note: o.Note, At: s.Points[0], Cautions: o.FromCautions}
		}
		as, drawn := ownShape(s)
		switch {
		case drawn:
			in.Shapes = append(in.Shapes, session.ImportedShape{
				Name: s.Name, Note: o.Note, Area: s.Kind == geojson.Area, Points: s.Points, As: as, KeepM: o.KeepM, Crosses: plan.Crossing(o.Cross), Cautions: o.FromCautions,
			})
		case o.Thing == plan.OfMark.Word() && s.Kind == geojson.Point:
			in.Marks = append(in.Marks, first)
		case o.Thing == plan.OfLeg.Word() && s.Kind == geojson.Line && len(s.Points) == 2:
			first.Name, first.Note = o.From, ""
			in.Routes = withLeg(in.Routes, first, session.ImportedPoint{Name: o.To, At: s.Points[1], Cautions: o.ToCautions})
		case o.Thing == plan.OfTrack.Word() && s.Kind == geojson.Line:
			in.Tracks = append(in.Tracks, plan.Track{Name: s.Name, Points: s.Points})
		case o.Thing == plan.OfEscape.Word():
			in.Escapes++
		default:
			others = append(others, s)
		}
	}
	return in, others
}

// withLeg adds a leg to the last route if it goes on from there, and else as a new one.
func withLeg(routes [][]session.ImportedPoint, from, to session.ImportedPoint) [][]session.ImportedPoint {
	if n := len(routes); n > 0 {
		last := &routes[n-1]
		if end := (*last)[len(*last)-1]; end.At == from.At && end.Name == from.Name {
			*last = append(*last, to)
			return routes
		}
	}
	return append(routes, []session.ImportedPoint{from, to})
}

// ownShape says what a shape was that was drawn on the ground; ok is false where it does not say
// so, or has another form.
func ownShape(s geojson.Shape) (as session.ShapeAs, ok bool) {
	switch s.Own.Thing {
	case plan.OfHazard.Word():
		as.Hazard = plan.HazardKind(s.Own.Sort)
	case plan.OfHaven.Word():
		as.Haven = plan.HavenKind(s.Own.Sort)
	case plan.OfLine.Word():
		as.Line = plan.LineKind(s.Own.Sort)
	case plan.OfArea.Word():
		as.Ground = pace.Ground(s.Own.Sort)
	}
	may := map[geojson.Kind][]session.ShapeAs{geojson.Area: session.AreasAs(), geojson.Line: session.LinesAs(), geojson.Point: session.PointsAs()}
	return as, slices.Contains(may[s.Kind], as)
}
