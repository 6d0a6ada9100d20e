package sheetpanel_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/ui/foot"
	"legwright/app/ui/widgets"
	"legwright/canvas/overlay"
	"legwright/mapio/georef"
)

// The arrow keys move the aim by a tenth of a pixel; a letter typed there goes to the
// reference, and Return keeps the point and leaves the keys to the map.
func TestAimByKeyboard(t *testing.T) {
	d := newDesk(t)
	d.click(100, 200)
	if d.spots(overlay.Aimed) != 1 {
		t.Error("the position aimed at is not marked on the map")
	}
	for range 3 {
		d.Key(fyne.KeyRight)
	}
	d.Key(fyne.KeyUp)
	d.Type("NL 21 42")
	d.Key(fyne.KeyReturn)
	points := d.sheet().Points
	if len(points) != 1 {
		t.Fatalf("%d points, want one: %s", len(points), d.line.Message())
	}
	if p := points[0].At; math.Abs(p.Col-100.3) > 1e-9 || math.Abs(p.Row-199.9) > 1e-9 {
		t.Errorf("the point lies at %+v, want 100.3, 199.9", p)
	}
	if !d.onMap() || d.spots(overlay.Aimed) != 0 {
		t.Errorf("the keys are at %T; %d marks of the aim are left", d.Canvas().Focused(), d.spots(overlay.Aimed))
	}
}

// Escape cancels the position aimed at, wherever the keys are, and leaves them to the
// map: a field that is hidden must not keep them.
func TestEscapeCancelsTheAim(t *testing.T) {
	for _, typed := range []string{"", "NL 2"} {
		d := calibrated(t)
		d.click(150, 150)
		d.Type(typed)
		d.Key(fyne.KeyEscape)
		if d.panel.Points().Aiming() || !d.onMap() {
			t.Errorf("after %q and Escape: aiming %v, the keys are at %T", typed, d.panel.Points().Aiming(), d.Canvas().Focused())
		}
	}
}

// A click on the desk beside the picture begins no control point, and the foot says why.
func TestNothingIsAimedAtBesideThePicture(t *testing.T) {
	d := newDesk(t)
	wide, high := float64(d.sheet().Width), float64(d.sheet().Height)
	for _, at := range [][2]float64{{-1, 50}, {50, -1}, {wide + 1, 50}, {50, high + 1}} {
		said := d.line.Message()
		if d.click(at[0], at[1]); d.panel.Points().Aiming() || d.line.Message() == said {
			t.Errorf("%v: aiming %v, the foot says %q", at, d.panel.Points().Aiming(), d.line.Message())
		}
		d.line.Say("")
	}
	if d.click(wide, high); !d.panel.Points().Aiming() {
		t.Error("the picture's corner cannot be aimed at")
	}
}

// References that cannot be read change nothing, and the form stays.
func TestWrongReferencesChangeNothing(t *testing.T) {
	d := calibrated(t)
	for _, ref := range []string{"nonsense", "ZZ 12 34", "NN 1 2 3", "1e9 1e9"} {
		before := d.s.Plan()
		d.point(50, 50, ref)
		if d.s.Plan() != before || !d.line.Failed() || !d.panel.Points().Aiming() {
			t.Errorf("%q: plan changed %v, refused %v", ref, d.s.Plan() != before, d.line.Failed())
		}
		d.panel.Points().Cancel()
	}
}

// What a check cannot use is said as soon as its source is chosen, in the words in which the
// check would refuse it.
func TestTheFormSaysAtOnceWhatACheckRefuses(t *testing.T) {
	for _, c := range []struct {
		ref, origin string
		source      calib.EvidenceSource
	}{
		{"25820 743330", "a published list", calib.FromList},
		{"22 41", "a GPS receiver", calib.FromReceiver},
		{"NL 22 41", "the map's margin", calib.FromMargin},
	} {
		d := calibrated(t)
		d.click(150, 150)
		d.Type(c.ref)
		if _, err := d.s.CheckReference(c.ref); err != nil {
			t.Fatalf("%s is no control point either: %v", c.ref, err)
		}
		err := d.s.CheckEvidence(c.source, c.ref)
		if err == nil {
			t.Fatalf("%s from %s can be used: the test tries nothing", c.ref, c.origin)
		}
		said := foot.Sentence(err)
		if slices.Contains(d.Texts(), said) {
			t.Errorf("%s: the form refuses a control point with %q", c.ref, said)
		}
		d.from(t, c.origin)
		if !slices.Contains(d.Texts(), said) {
			t.Errorf("%s from %s: the form does not say %q", c.ref, c.origin, said)
		}
	}
}

// A reference that does for a control point and not for a check says so before a source is
// chosen; one that does for both says nothing of it.
func TestTheFormSaysWhatACheckWouldNeed(t *testing.T) {
	for ref, want := range map[string]string{
		"25820 743330": "type E and N before its numbers.",
		"22 41":        "type its letters.",
		"NL 22 41":     "", "E 25820 N 743330": "",
	} {
		d := calibrated(t)
		d.click(150, 150)
		d.Type(ref)
		i := slices.IndexFunc(d.Texts(), func(s string) bool { return strings.Contains(s, "For a check, ") })
		if (i >= 0) != (want != "") || i >= 0 && !strings.HasSuffix(d.Texts()[i], want) {
			t.Errorf("%s: want %q in %q", ref, want, d.Texts())
		}
		d.from(t, "a published list")
		if slices.ContainsFunc(d.Texts(), func(s string) bool { return strings.Contains(s, "For a check, ") }) {
			t.Errorf("%s: still asks after the source is chosen", ref)
		}
	}
}

// A chosen point that an undo moves is followed, and one that it removes is no longer
// chosen.
func TestChosenPointAfterUndo(t *testing.T) {
	d := calibrated(t)
	d.point(300, 100, "NL 23 43")
	d.clickPoint(2)
	d.Key(fyne.KeyRight)
	if at := d.sheet().Points[2].At.Col; math.Abs(at-300.1) > 1e-9 {
		t.Fatalf("the point is at col %v, want 300.1", at)
	}
	d.s.Undo()
	d.Key(fyne.KeyRight)
	if at := d.sheet().Points[2].At.Col; math.Abs(at-300.1) > 1e-9 || d.panel.Points().Chosen() != 2 {
		t.Errorf("a step after undo leads to col %v of point %d, want 300.1 of 2", at, d.panel.Points().Chosen())
	}
	d.s.Undo()
	d.s.Undo()
	if d.panel.Points().Chosen() >= 0 || d.panel.Points().Aiming() {
		t.Errorf("point %d is still chosen of %d", d.panel.Points().Chosen()+1, len(d.sheet().Points))
	}
}

// A control point can be changed by another reference, and deleted; deleting another
// one ends the change, for the numbers are others then.
func TestControlPointIsChangedAndDeleted(t *testing.T) {
	d := calibrated(t)
	d.clickPoint(1)
	d.Type("NL 24 42")
	d.Key(fyne.KeyReturn)
	c, err := d.s.Calibration()
	if err != nil || math.Abs(c.MetresPerPixel()-15) > 1e-6 {
		t.Fatalf("calibration %v, %v, want 15 m a pixel", c, err)
	}
	d.clickPoint(1)
	if err := d.s.RemoveControlPoint(0); err != nil || d.panel.Points().Chosen() >= 0 {
		t.Errorf("%v; point %d is chosen after another was deleted", err, d.panel.Points().Chosen()+1)
	}
	d.clickPoint(0)
	if !d.panel.Points().RemoveChosen() || len(d.sheet().Points) != 0 {
		t.Errorf("%d points are left", len(d.sheet().Points))
	}
	if d.panel.Points().RemoveChosen() {
		t.Error("a point is deleted though none is chosen")
	}
}

// How the picture was made is one step of undo.
func TestMediumIsChosen(t *testing.T) {
	d := calibrated(t)
	d.tapChoice(t, 2)
	if got := d.sheet().Medium; got != calib.Drawn {
		t.Errorf("got %s, want drawn", got)
	}
	d.s.Undo()
	if got := d.sheet().Medium; got != calib.Scan {
		t.Errorf("after undo: %s, want scan", got)
	}
}

// A feature that does not agree stops the sheet and is marked on the map; nothing that
// cannot be read is kept. Return checks once it is said where the reference comes from.
func TestEvidence(t *testing.T) {
	d := calibrated(t)
	d.click(200, 150)
	d.from(t, "a published list")
	d.Tap(t, "Use as check")
	if len(d.sheet().Evidence) != 0 || !d.line.Failed() {
		t.Errorf("no reference: %d pieces, refused %v", len(d.sheet().Evidence), d.line.Failed())
	}
	d.panel.Points().Cancel()
	d.check(t, 205.5, 154.5, "a published list", "NL 2305 4245") // a kilometre out
	v := d.s.Verdict()
	if v.Checked || !caution.Has(v.Cautions, caution.EvidenceDisagree) || d.spots(overlay.Disagrees) != 1 {
		t.Errorf("a kilometre out: %+v, %d marks", v.Cautions, d.spots(overlay.Disagrees))
	}
	d.Tap(t, "Delete this check")
	if len(d.sheet().Evidence) != 0 {
		t.Errorf("%d pieces are left", len(d.sheet().Evidence))
	}
}

// The latitude and longitude of the margin check a sheet that was calibrated by grid
// references: typing them says where they come from. At a control point, too.
func TestMarginCheck(t *testing.T) {
	for _, atPoint := range []bool{false, true} {
		d := calibrated(t)
		d.point(300, 50, "23000 743500")
		d.point(50, 50, "20500 743500")
		d.click(150, 120)
		if atPoint {
			d.clickPoint(3)
		}
		col, row := 150.0, 120.0
		if atPoint {
			col, row = d.sheet().Points[3].At.Col, d.sheet().Points[3].At.Row
		}
		d.Type(latLon(t, d, col, row))
		d.Key(fyne.KeyReturn)
		sheet := d.sheet()
		if len(sheet.Evidence) != 1 || sheet.Evidence[0].Source != calib.FromMargin || len(sheet.Points) != 4 || !d.s.Verdict().Checked {
			t.Errorf("at a point %v: evidence %+v with %d points: %s", atPoint, sheet.Evidence, len(sheet.Points), d.line.Message())
		}
		if d.spots(overlay.Agrees) != 1 {
			t.Errorf("at a point %v: the check is not marked on the map", atPoint)
		}
	}
}

// latLon is the latitude and longitude of a position of the picture.
func latLon(t *testing.T, d *desk, col, row float64) string {
	t.Helper()
	c, err := d.s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	ll, _, err := d.s.Reader().System().ToWGS84(c.ToGrid(calib.PicturePt{Col: col, Row: row}))
	if err != nil {
		t.Fatal(err)
	}
	return geodesy.FormatLatLon(ll)
}

// On a sheet that is being calibrated by latitude and longitude they are control points
// as long as nobody says otherwise.
func TestLatLonStaysAControlPoint(t *testing.T) {
	d := newDesk(t)
	d.point(100, 200, "56°26'N 7°05'W")
	d.point(300, 200, "56°26'N 7°03'W")
	d.point(300, 50, "56°27'N 7°03'W")
	if s := d.sheet(); len(s.Points) != 3 || len(s.Evidence) != 0 {
		t.Errorf("%d points, %d pieces of evidence: %s", len(s.Points), len(s.Evidence), d.line.Message())
	}
}

// Figures without letters check nothing: the letters would come from what is to be
// checked. A check needs to know where its reference comes from.
func TestWhatChecksNothing(t *testing.T) {
	d := placed(t, 0)
	d.check(t, 143, 77, "a published list", "2143 4323")
	if len(d.sheet().Evidence) != 0 || !d.line.Failed() {
		t.Errorf("without letters: %s", d.line.Message())
	}
	d.panel.Points().Cancel()
	d.click(143, 77)
	d.Type("NL 2143 4323")
	d.panel.Points().UseAsCheck()
	if len(d.sheet().Evidence) != 0 || !d.line.Failed() {
		t.Errorf("from nowhere: %s", d.line.Message())
	}
	d.from(t, "a published list")
	d.Tap(t, "Use as check")
	if len(d.sheet().Evidence) != 1 {
		t.Errorf("with its letters: %s", d.line.Message())
	}
}

// A control point that is named as wrong can be looked at and deleted by one click
// each.
func TestAWrongPointIsDeletedByOneClick(t *testing.T) {
	d := calibrated(t)
	d.point(300, 100, "NL 23 43")
	d.point(100, 100, "NL 20 43") // it is NL 21 43
	if v := d.s.Verdict(); !caution.Stops(v.Cautions, caution.All) {
		t.Fatalf("no stop: %+v", v.Cautions)
	}
	d.Tap(t, "Look at point 4")
	if d.panel.Points().Chosen() != 3 {
		t.Errorf("point %d is chosen, want 4", d.panel.Points().Chosen()+1)
	}
	d.Key(fyne.KeyEscape)
	d.Tap(t, "Delete it")
	if n := len(d.sheet().Points); n != 3 || caution.Stops(d.s.Verdict().Cautions, caution.All) || d.offers("Delete it") {
		t.Errorf("%d points, %+v", n, d.s.Verdict().Cautions)
	}
}

// Four points of a photograph that fit no flat sheet: as a photograph they do. What is said
// of them changes, and the control that was pressed stays where it stood.
func TestAPhotographIsAskedFor(t *testing.T) {
	d := calibrated(t)
	d.point(310, 95, "NL 23 43")
	d.point(80, 103, "NL 21 43")
	asked := d.panel.Hint()
	place := func() fyne.Position { return fyne.CurrentApp().Driver().AbsolutePositionForObject(d.choice(t)) }
	stood := place()
	d.tapChoice(t, 1)
	if at := place(); at != stood || stood.Y == 0 {
		t.Errorf("the chooser stands at %v, before at %v", at, stood)
	}
	if c, err := d.s.Calibration(); err != nil || c.Medium() != calib.Photograph || d.panel.Hint() == asked {
		t.Errorf("as a photograph: %v, the panel still says %q", err, d.panel.Hint())
	}
}

// What a file says reaches the panel also of a picture that comes back, but calibrates
// a sheet only once.
func TestFileCalibratesOnce(t *testing.T) {
	d := newDesk(t)
	d.panel.TakeFile(georef.Found{Georeference: georeference(t, 0)}, false)
	if d.sheet().World != nil {
		t.Error("a picture that came back was calibrated again")
	}
	d.panel.TakeFile(georef.Found{Georeference: georeference(t, 0)}, true)
	if !d.sheet().ByMatrix() || d.s.Verdict().Checked {
		t.Errorf("by its matrix %v, checked %v", d.sheet().ByMatrix(), d.s.Verdict().Checked)
	}
}

// While a reference is typed, nothing above its field changes its height: what is being
// typed into must not move.
func TestTheFieldStaysWhileItIsTypedInto(t *testing.T) {
	for name, d := range map[string]*desk{"uncalibrated": newDesk(t), "calibrated": calibrated(t)} {
		d.click(150, 150)
		d.Drain()
		field := d.panel.Controls()["reference"]
		place := func() fyne.Position { return fyne.CurrentApp().Driver().AbsolutePositionForObject(field) }
		stood := place()
		for _, r := range "NL 23 4x" {
			d.Type(string(r))
			if at := place(); at != stood {
				t.Fatalf("%s: the field stands at %v after %q, before at %v", name, at, r, stood)
			}
		}
		high := d.panel.Body().MinSize().Height
		if d.Key(fyne.KeyEscape); d.panel.Body().MinSize().Height >= high {
			t.Errorf("%s: the panel stays %v high once nothing is typed", name, high)
		}
	}
}

// Beside a refused reference the panel says something else than beside one that can be
// kept, whether it cannot be read or was refused when it was to be kept; and again what it
// said once it is mended.
func TestWhatToDoAboutARefusedReference(t *testing.T) {
	d := calibrated(t)
	d.click(150, 150)
	d.Type("NL 22 42")
	fine := d.panel.Hint()
	for _, ref := range []string{"NL 22 4", "ZZ 22 42"} {
		if d.Replace(ref); d.panel.Hint() == fine {
			t.Errorf("%q: the panel says %q", ref, fine)
		}
	}
	if d.Replace("NL 21 42"); d.panel.Hint() != fine { // can be read, but is the first point's
		t.Fatalf("the panel says %q, want %q", d.panel.Hint(), fine)
	}
	d.Key(fyne.KeyReturn)
	if len(d.sheet().Points) != 2 || d.panel.Hint() == fine {
		t.Errorf("%d points; the panel says %q", len(d.sheet().Points), d.panel.Hint())
	}
	if d.Replace("NL 22 42"); d.panel.Hint() != fine {
		t.Errorf("mended, the panel says %q, want %q", d.panel.Hint(), fine)
	}
}

// Another sheet is offered as the source of a check once there is one.
func TestAnotherSheetIsOfferedWhereThereIsOne(t *testing.T) {
	offered := func(d *desk) bool {
		for _, s := range d.lists() {
			if s.PlaceHolder == "choose, to check the sheet" {
				return slices.Contains(s.Options, "another sheet")
			}
		}
		t.Fatalf("no list of sources; shown is %q", d.Texts())
		return false
	}
	d := newDesk(t)
	d.point(100, 100, "NL 21 43")
	d.point(400, 300, "NL 24 41")
	if d.click(233, 177); offered(d) {
		t.Error("another sheet is offered, and there is none")
	}
	d = overlapping(t, 0)
	if d.click(233, 177); !offered(d) {
		t.Error("with two sheets no other one is offered")
	}
}

// Return and Escape work while the list of origins has the focus.
func TestKeysInTheListOfOrigins(t *testing.T) {
	d := calibrated(t)
	for _, key := range []fyne.KeyName{fyne.KeyEscape, fyne.KeyReturn} {
		d.click(205, 155)
		d.Type("NL 2205 4245")
		d.from(t, "a published list")
		d.Canvas().Focus(d.lists()[0])
		if d.Key(key); d.panel.Points().Aiming() || len(d.sheet().Evidence) != map[fyne.KeyName]int{fyne.KeyReturn: 1}[key] {
			t.Errorf("%s: aiming %v, %d checks: %s", key, d.panel.Points().Aiming(), len(d.sheet().Evidence), d.line.Message())
		}
	}
}

// The form says of a reference the position that it is compared with: at an intersection
// the corner of its square, of a feature the middle.
func TestAFeatureLiesInTheMiddleOfItsSquare(t *testing.T) {
	for _, c := range []struct {
		origin, ref string
		e           string
		source      calib.EvidenceSource
	}{
		{"", "NL 21 42", "E 21000", ""},
		{"a published list", "NL 215 425", "E 21550", calib.FromList},
		{"a GPS receiver", "NL 21507 42511", "E 21507.5", calib.FromReceiver},
		{"this map's own grid", "NL 21 42", "E 21000", calib.FromOwnGrid},
		{"this map's own grid", "NL 213 422", "E 21350", calib.FromOwnGrid},
	} {
		d := calibrated(t)
		d.click(150, 150)
		d.Type(c.ref)
		if c.origin != "" {
			d.from(t, c.origin)
		}
		d.Drain()
		if !slices.ContainsFunc(d.Texts(), func(text string) bool { return strings.Contains(text, c.e+",") }) {
			t.Errorf("%s from %q: nothing says %s in %q", c.ref, c.origin, c.e, d.Texts())
		}
		if c.origin == "" {
			continue
		}
		e, err := plan.ReadEvidence(c.source, c.ref, d.s.Reader().System(), nil)
		if err != nil || "E "+strconv.FormatFloat(e.Ref.E, 'f', -1, 64) != c.e {
			t.Errorf("%s from %q is compared with E %v, not %s: %v", c.ref, c.origin, e.Ref.E, c.e, err)
		}
	}
}

// A height is typed in place of a reference where a contour is to check the sheet, which is
// offered only where the plan has terrain; fewer than six are not compared.
func TestHeightOfAContour(t *testing.T) {
	d := calibrated(t)
	d.click(150, 120)
	offered := func() bool {
		return slices.ContainsFunc(d.lists(), func(s *widgets.Select) bool { return slices.Contains(s.Options, "a contour and the terrain") })
	}
	if offered() {
		t.Error("without terrain a contour is offered as a check")
	}
	if err := d.s.OpenTerrain(plan.Terrain{Path: "/maps/hill.hgt", SHA256: strings.Repeat("a", 64)}); err != nil {
		t.Fatal(err)
	}
	d.click(150, 120)
	if !offered() {
		t.Fatal("with terrain no contour is offered as a check")
	}
	d.from(t, "a contour and the terrain")
	d.FocusOn(t, "height in metres, such as 250")
	d.Type("high")
	d.Key(fyne.KeyReturn)
	if n := len(d.sheet().Evidence); n != 0 || !d.Shows("is not a height") {
		t.Errorf("%d pieces of evidence: %v", n, d.Texts())
	}
	d.Replace("250 m")
	d.Key(fyne.KeyReturn)
	e := d.sheet().Evidence
	if len(e) != 1 || e[0].Source != calib.FromTerrain || e[0].Text != "250 m" || d.s.Verdict().Checked {
		t.Errorf("evidence %+v: %s", e, d.line.Message())
	}
	if !d.Shows("Contour: 250 m") || !d.Shows("needs six heights") || d.line.Message() != "Kept, but not compared: the Sheet panel says why." {
		t.Errorf("the panel says %v, the message line %q", d.Texts(), d.line.Message())
	}
	d.click(100, 100)
	d.FocusOn(t, "height in metres, such as 250") // the next contour is asked for at once
}
