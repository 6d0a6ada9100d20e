package headless

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"slices"
	"strings"
	"time"

	"legwright/app/calib"
	"legwright/app/calib/lattice"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/mapio/openfile"
	"legwright/mapio/scan"
)

// nameFlag collects names of intersections, "col,row=REF".
type nameFlag []named

type named struct {
	at  calib.PicturePt
	ref string
}

func (n *nameFlag) String() string { return "" }

func (n *nameFlag) Set(text string) error {
	place, ref, ok := strings.Cut(text, "=")
	var at atFlag
	if !ok || strings.TrimSpace(ref) == "" || at.Set(place) != nil {
		return fmt.Errorf("give a column, a row and the reference of the intersection there, such as 1204,838=NL230430")
	}
	*n = append(*n, named{at[0], strings.TrimSpace(ref)})
	return nil
}

// search is the printed grid of a picture, or why there is none.
type search struct {
	found  *lattice.Lattice
	reason string
	took   time.Duration

	graticule *graticuleFlag // lines of latitude and longitude, where they were named so

	header scan.Header
	image  image.Image
	names  []lattice.Name
	square float64 // metres, 0 while nothing was named
}

// searchGrid opens the picture and looks for its printed grid.
func searchGrid(ctx context.Context, q *pictureFlags) (search, []caution.Caution, error) {
	fsys, base := openfile.Picked(q.picture)
	pic, err := scan.Open(ctx, fsys, base, q.drawing())
	if err != nil {
		return search{}, nil, err
	}
	var cautions []caution.Caution
	if h := pic.Header; h.PageDPI > 0 {
		cautions = append(cautions, caution.Of(caution.PageDrawn, fmt.Sprintf(
			"page %d of %d is drawn at %g pixels per inch, %d × %d pixels", h.Page, h.Pages, h.PageDPI, h.Width, h.Height)))
	}
	if h := pic.Header; h.Pages > 1 && h.PageDPI == 0 {
		cautions = append(cautions, caution.Of(caution.PageChosen, fmt.Sprintf("page %d of %d is read", h.Page, h.Pages)))
	}
	for _, w := range pic.Notes {
		cautions = append(cautions, caution.Of(caution.PictureRemark, w))
	}
	began := time.Now()
	l, why, err := lattice.Find(ctx, pic.Image, nil)
	return search{found: l, reason: why, took: time.Since(began), header: pic.Header, image: pic.Image}, cautions, err
}

// name reads the references of the named intersections.
func (l *search) name(names nameFlag, system *geodesy.System, own bool) ([]caution.Caution, error) {
	datum := datumOf{own: own}
	var cautions []caution.Caution
	for _, n := range names {
		ref, err := geodesy.ParseRef(n.ref, geodesy.RefContext{System: system})
		if err != nil {
			return cautions, fmt.Errorf("--name %s: %w", n.ref, err)
		}
		if !ref.LettersGiven {
			cautions = append(cautions, lettersTaken(n.ref, ref))
		}
		if ref.Kind == geodesy.RefLatLon && system.Unit().Name != "degree" {
			return cautions, fmt.Errorf("--name %s: for lines of latitude and longitude give --graticule MINUTES; an intersection of grid lines is named by its grid reference", n.ref)
		}
		grid, said, err := datum.grid(system, ref)
		if err != nil {
			return cautions, fmt.Errorf("--name %s: %w", n.ref, err)
		}
		cautions = append(cautions, said...)
		l.names = append(l.names, lattice.Name{At: n.at, Ref: grid, Text: n.ref})
	}
	return cautions, nil
}

// points makes the intersections control points. squareM 0 means that it was not
// given: then the names must tell it.
func (l *search) points(squareM float64, system *geodesy.System, medium calib.Medium) ([]calib.ControlPoint, error) {
	if l.found == nil {
		return nil, fmt.Errorf("no printed grid was found in the picture: %s; use fit with control points", l.reason)
	}
	n := lattice.Naming{Names: l.names, SquareM: squareM, System: system, Medium: medium}
	points, err := l.found.Named(n)
	if errors.Is(err, lattice.ErrOpenSquare) {
		return nil, l.askSide(n)
	}
	if s, errSide := l.found.SquareOf(n); errSide == nil {
		l.square = s.SideM
	}
	return points, err
}

// askSide is the error where nothing tells how wide a square is. It says what
// the likely widths make of the sheet.
func (l *search) askSide(n lattice.Naming) error {
	s, err := l.found.SquareOf(n)
	if err != nil {
		return err
	}
	var would []string
	for _, side := range s.Sides {
		if mpp := side / l.found.SquarePx; mpp >= 0.3 && mpp <= 1000 { // 1:1,000 scanned finely to 1:5,000,000
			would = append(would, fmt.Sprintf("%.3g km wide with squares of %s", mpp*float64(l.header.Width)/1000, lattice.SideWords(side, n.System)))
		}
	}
	text := "one reference alone does not say how wide a square is: give --square METRES from the margin, or --name a second intersection"
	if len(would) > 0 {
		text += ". The sheet would be " + joinOr(would)
	}
	if off := l.offWider(n, s.Sides); off != nil {
		text += ". If the lines are farther apart, " + off.Error()
	}
	return errors.New(text)
}

// offWider says of a reference that lies on fine lines alone, such as one of six
// figures, what it is where the squares are 1,000 metres or feet wide.
func (l *search) offWider(n lattice.Naming, sides []float64) error {
	unit := n.System.Unit()
	if n.SquareM = 1000 * unit.Metres; unit.Name == "degree" || slices.Contains(sides, n.SquareM) {
		return nil
	}
	_, err := l.found.SquareOf(n)
	return err
}

// object is the key "lattice".
func (l *search) object(points []calib.ControlPoint) object {
	var o object
	o.add("found", l.found != nil)
	o.add("seconds", number(math.Round(l.took.Seconds()*1000)/1000))
	if l.found == nil {
		o.add("reason", l.reason)
		o.add("intersections", []object{})
		return o
	}
	o.add("square_px", number(l.found.SquarePx))
	o.add("angle_deg", number(l.found.Angle*180/math.Pi))
	o.add("oblong", l.found.Oblong)
	o.add("support", number(l.found.Support))
	if l.graticule != nil {
		o.add("graticule_min", numberList([]float64{l.graticule.lat, l.graticule.lon}))
	}
	if l.square > 0 {
		o.add("square_m", number(l.square))
	}
	list := make([]object, len(l.found.Intersections))
	for i, c := range l.found.Intersections {
		list[i] = object{
			{"col", number(c.Col)},
			{"row", number(c.Row)},
			{"i", c.I},
			{"j", c.J},
			{"quality", number(c.Quality)},
			{"sigma_px", number(c.SigmaPx)},
		}
		if i < len(points) {
			list[i].add("easting_m", number(points[i].Ref.E))
			list[i].add("northing_m", number(points[i].Ref.N))
		}
	}
	o.add("intersections", list)
	return o
}

// table says in words what the search found.
func (l *search) lines(t *table) {
	if l.found == nil {
		t.line("printed grid", "none: %s", l.reason)
		return
	}
	t.line("printed grid", "%d intersections, squares of %.2f px, %.3f° clockwise", len(l.found.Intersections), l.found.SquarePx, l.found.Angle*180/math.Pi)
	if l.found.Oblong {
		t.line("not square", "%.1f × %.1f px: the lines may be latitude and longitude", l.found.WidthPx, l.found.HeightPx)
	}
	t.line("search", "took %.2f s", l.took.Seconds())
}

// writeSearch reports the printed grid alone.
func writeSearch(l *search, cautions []caution.Caution, asJSON bool, s streams) error {
	speakAll(cautions, asJSON, s)
	if asJSON {
		return writeJSON(s.out, object{{"lattice", l.object(nil)}, {"cautions", cautionList(cautions)}})
	}
	var t table
	l.lines(&t)
	t.cautions = cautions
	return t.write(s.out)
}
