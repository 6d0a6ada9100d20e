package feature

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
)

// Of turns a plan into features, in the order of marks, legs, escapes, lines, areas, hazards,
// havens and tracks. The error is ErrNothing, that of the first thing that cannot be computed,
// or that something crosses the 180° meridian.
func Of(r *leg.Reader) (*Document, error) {
	p := r.Plan()
	x, err := leg.Export(p, r.Model())
	if err != nil {
		return nil, err
	}
	escapes, err := escape.Export(p, r.Model())
	if err != nil {
		return nil, err
	}
	b := builder{r: r, all: slices.Clone(x.Cautions)}
	b.marks(x.Marks)
	b.legs(x.Routes)
	b.escapes(escapes)
	if err := b.drawn(); err != nil {
		return nil, err
	}
	b.tracks()
	if len(b.out) == 0 {
		return nil, ErrNothing
	}
	for _, f := range b.out {
		if f.crosses180() {
			return nil, fmt.Errorf("%s crosses the 180° meridian, where these files cut every shape in two: export GPX instead", f.Name)
		}
	}
	d := &Document{Title: p.Title, Whole: whole(x), Stop: caution.Lead(b.all, caution.All), Features: b.out}
	if !p.Date.IsZero() {
		d.Date = p.Date.Time()
	}
	return d, nil
}

// crosses180 reports whether two points that follow each other lie on both sides of that
// meridian, where RFC 7946 (section 3.1.9) wants the shape cut.
func (f Feature) crosses180() bool {
	for i := 1; i < len(f.Points); i++ {
		if math.Abs(f.Points[i].At.Lon.Deg()-f.Points[i-1].At.Lon.Deg()) > 180 {
			return true
		}
	}
	return false
}

// builder gathers features and what speaks against any of them.
type builder struct {
	r   *leg.Reader
	all []caution.Caution
	out []Feature
}

// whole is what there is to say of all features.
func whole(x leg.Exported) string {
	parts := []string{PlanningAid}
	for _, c := range x.Cautions {
		parts = append(parts, c.Text())
	}
	if x.Error != "" {
		parts = append(parts, x.Error+".")
	}
	return strings.Join(parts, " ")
}

// add adds a feature with what speaks against it.
func (b *builder) add(f Feature, list []caution.Caution) {
	f.Stop = caution.Lead(list, caution.All)
	b.all = append(b.all, list...)
	b.out = append(b.out, f)
}

func (b *builder) marks(list []leg.ExportPoint) {
	for i, e := range list {
		m := b.r.Plan().Marks[i]
		b.add(Feature{Kind: plan.OfMark, Name: m.Name, Note: m.Note, Text: e.Desc, Points: []Point{b.point(e, m.Position)}}, e.Cautions)
	}
}

func (b *builder) point(e leg.ExportPoint, pos plan.Position) Point {
	return Point{e.Name, e.At, b.height(pos), e.Lasting}
}

func (b *builder) height(pos plan.Position) float64 {
	if m, ok := b.r.HeightAt(pos); ok {
		return m
	}
	return math.NaN()
}

// legs adds a feature for each leg of the routes.
func (b *builder) legs(routes [][]leg.ExportPoint) {
	p, n := b.r.Plan(), 0
	for _, route := range routes {
		for i, from := range route[:len(route)-1] {
			l, to := p.Legs[n], route[i+1]
			n++
			name := fmt.Sprintf("%d %s to %s", n, from.Name, to.Name)
			if l.Name != "" {
				name += ": " + l.Name
			}
			b.add(Feature{
				Kind: plan.OfLeg, Name: name, Note: l.Note, Text: from.Desc,
				Points: []Point{b.point(from, p.Resolve(l.From)), b.point(to, p.Resolve(l.To))},
			}, from.Cautions)
		}
	}
}

func (b *builder) escapes(list []escape.Exported) {
	for _, e := range list {
		f := Feature{Kind: plan.OfEscape, Name: e.Name}
		var said []string
		for _, q := range e.Points {
			f.Points = append(f.Points, Point{q.Name, q.At, math.NaN(), q.Lasting})
			said = append(said, q.Desc)
		}
		f.Text = strings.Join(said, " / ")
		b.add(f, e.Cautions)
	}
}

// drawn adds what is drawn on the ground.
func (b *builder) drawn() error {
	p := b.r.Plan()
	for _, l := range p.Lines {
		words := l.Kind.String()
		if l.Catching {
			words += ", a catching feature"
		}
		if err := b.shape(Feature{Kind: plan.OfLine, Sort: string(l.Kind), Name: l.Title(), Note: l.Note}, words, l.Points); err != nil {
			return err
		}
	}
	for _, a := range p.Areas {
		if err := b.shape(Feature{Kind: plan.OfArea, Sort: string(a.Ground), Name: a.Title(), Note: a.Note, Closed: true}, "ground: "+a.Ground.String(), a.Points); err != nil {
			return err
		}
	}
	for _, h := range p.Hazards {
		words := h.Kind.String()
		if h.Kind.Danger() {
			words = fmt.Sprintf("danger: %s, keep %.0f m away", words, h.KeepM)
		}
		if h.Kind == plan.Water {
			words += ", " + h.Crosses.String()
		}
		f := Feature{Kind: plan.OfHazard, Sort: string(h.Kind), Name: h.Title(), Note: h.Note, Closed: h.Closed, KeepM: h.KeepM, Cross: string(h.Crosses)}
		if err := b.shape(f, words, h.Points); err != nil {
			return err
		}
	}
	for _, h := range p.Havens {
		if err := b.shape(Feature{Kind: plan.OfHaven, Sort: string(h.Kind), Name: h.Title(), Note: h.Note}, h.Kind.String(), h.Points); err != nil {
			return err
		}
	}
	return nil
}

// shape adds what is drawn through some positions, with the cautions of all of them.
func (b *builder) shape(f Feature, words string, list []plan.Position) error {
	var against []caution.Caution
	for _, pos := range list {
		sys, err := b.r.SystemOf(pos.Code)
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		at, _, err := sys.ToWGS84(pos.Grid)
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		against = append(against, b.r.CautionsOf(pos)...)
		f.Points = append(f.Points, Point{At: at, HeightM: math.NaN(), Lasting: b.r.Lasting(pos)})
	}
	if len(list) == 1 {
		f.Points[0].HeightM = b.height(list[0])
	}
	if f.Note != "" {
		words += "; " + f.Note
	}
	against = caution.GravestFirst(against)
	f.Text = b.r.Described(words, against)
	b.add(f, against)
	return nil
}

// tracks adds the recorded tracks: they are on WGS 84 already.
func (b *builder) tracks() {
	for _, t := range b.r.Plan().Tracks {
		f := Feature{Kind: plan.OfTrack, Name: t.Name, Text: "recorded track"}
		for _, at := range t.Points {
			f.Points = append(f.Points, Point{At: normal(at), HeightM: math.NaN()})
		}
		if len(f.Points) > 1 {
			b.add(f, nil)
		}
	}
}

// normal brings a longitude within −180 to 180.
func normal(at geodesy.LatLon) geodesy.LatLon {
	if lon := at.Lon.Deg(); lon < -180 || lon > 180 {
		return geodesy.DegLatLon(at.Lat.Deg(), math.Remainder(lon, 360))
	}
	return at
}

// Lasting are the cautions that go with any of the feature's points, each once.
func (f Feature) Lasting() (out []caution.Caution) {
	for _, p := range f.Points {
		for _, c := range p.Lasting {
			if !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}
