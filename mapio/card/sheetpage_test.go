package card

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
	"legwright/mapio/paper"
)

// sheeted is a plan on two sheets: one of four control points of a drawn square of 10 m a pixel,
// the last of them read 40 m too far east, and one that is not calibrated.
func sheeted() *plan.Plan {
	s := plan.Sheet{ID: "sheet-1", Picture: "isle.png", Width: 500, Height: 400, Code: geodesy.EPSG(27700), Medium: calib.Scan}
	for i, at := range [...]calib.PicturePt{{Col: 0, Row: 0}, {Col: 500, Row: 0}, {Col: 0, Row: 400}, {Col: 500, Row: 400}} {
		ref := geodesy.Grid{E: 230_000 + 10*at.Col, N: 724_000 - 10*at.Row}
		if i == 3 {
			ref.E += 40
		}
		s = s.WithPoint(calib.ControlPoint{At: at, Ref: ref, Text: fmt.Sprintf("E %.0f N %.0f", ref.E, ref.N)})
	}
	return route(2, plan.Letters).SetSheet(s).SetSheet(plan.Sheet{ID: "sheet-2", Picture: "bare.png", Width: 10, Height: 10, Code: geodesy.EPSG(27700)})
}

// Each sheet has its page with grid, control points and residuals, and says that it is unchecked
// or not calibrated. A residual is where the reference lies from the position that the fit has for
// its pixel.
func TestSheetPages(t *testing.T) {
	t.Parallel()
	s := sourceOf(t, sheeted())
	c := contentOf(t, s)
	if len(c.SheetPages) != 2 || len(c.SheetPages[0].Points) != 4 {
		t.Fatalf("%+v", c.SheetPages)
	}
	fit, err := s.Reader.CalibrationOf("sheet-1")
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range fit.Points() {
		at := fit.ToGrid(p.At)
		e, n := p.Ref.E-at.E, p.Ref.N-at.N
		want := fmt.Sprintf("%s (%.1f %s, %.1f %s), ", units.ErrorM(math.Hypot(e, n)), math.Abs(e), map[bool]string{true: "E", false: "W"}[e > 0], math.Abs(n), map[bool]string{true: "N", false: "S"}[n > 0])
		if off := c.SheetPages[0].Points[i].Off; !strings.HasPrefix(off, want) {
			t.Errorf("control point %d: %q, want %q", i+1, off, want)
		}
	}
	if last := c.SheetPages[0].Points[3].Off; !strings.Contains(last, " E, ") {
		t.Errorf("the point that was read too far east lies %q from the fit", last)
	}
	for _, size := range append(paper.Sizes(), paper.Pocket.Landscape()) {
		pdf, err := c.SheetPaper(Print{Size: size})
		all := pages(t, pdf, err)
		text := squeezed(plain(strings.Join(all, " ")))
		for _, want := range []string{"Sheet isle.png", "UNCHECKED.", "British National Grid, datum OSGB36, EPSG:27700", "E 235040 N 720000", "px 500, 400", "Sheet bare.png", "Not calibrated.", PlanningAid} {
			if !strings.Contains(text, squeezed(want)) {
				t.Errorf("%s: no %q in %s", size, want, text)
			}
		}
		if size == paper.A4 && (len(all) != 2 || strings.Contains(all[0], "bare.png") || strings.Contains(text, "…")) {
			t.Errorf("%d pages of A4: %q", len(all), all)
		}
	}
}

// The page of the demo's sheet has the figures of its fit and its check, and a plan without a
// sheet has none.
func TestSheetPageOfTheDemo(t *testing.T) {
	t.Parallel()
	s := demoSource(t)
	c, id := contentOf(t, s), s.Reader.Plan().Sheets[0].ID
	fit, err := s.Reader.CalibrationOf(id)
	if err != nil {
		t.Fatal(err)
	}
	v, page := s.Reader.Verdict(id), c.SheetPages[0]
	if want := fmt.Sprintf("Checked to ± %.0f m by %s: on the map's grid", v.WithinM, v.By); !v.Checked || !strings.HasPrefix(page.Check, want) {
		t.Errorf("%q, want %q", page.Check, want)
	}
	for i, r := range fit.Residuals() {
		if want := fmt.Sprintf("%.1f m (", math.Hypot(r.EastM, r.NorthM)); !strings.HasPrefix(page.Points[i].Off, want) {
			t.Errorf("control point %d: %q, want %q", i+1, page.Points[i].Off, want)
		}
	}
	if e := page.Evidence; len(e) != 1 || !strings.HasPrefix(e[0].Ref, "list: ") || !strings.HasSuffix(e[0].Off, ": agrees") {
		t.Errorf("evidence %+v", e)
	}
	small, err := c.SheetPaper(Print{Size: paper.A6})
	if all := pages(t, small, err); len(all) != 1 {
		t.Errorf("%d pages of A6, want all on one: %q", len(all), all[1:])
	}
	p := s.Reader.Plan()
	p.Legs, p.Escapes = nil, nil
	c, pdf, err := Make(context.Background(), sourceOf(t, p), Order{Form: SheetForm, Size: paper.A4}, Beside{})
	if text := strings.Join(pages(t, pdf, err), " "); !strings.Contains(text, "Checked to ± 15 m") || !strings.Contains(text, "plan "+c.Number) {
		t.Errorf("the sheet of a plan without a route: %s", text)
	}
	if _, err := contentOf(t, sourceOf(t, route(1, plan.Letters))).SheetPaper(Print{Size: paper.A4}); err == nil {
		t.Error("a page of no sheet was made")
	} else if errors.Is(err, ErrNoLegs) {
		t.Error(err)
	}
}
