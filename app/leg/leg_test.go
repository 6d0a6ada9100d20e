package leg

import (
	"errors"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/calib"
	"legwright/app/caution"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/units"
)

// sheetOf is a north-up sheet of 5 m to the pixel, top-left at E 50 000,
// N 800 000 on the British grid: invented ground in the sea west of Scotland.
func sheetOf(points ...[4]float64) plan.Sheet {
	s := plan.Sheet{ID: "sheet-1", Width: 2000, Height: 2000, Code: geodesy.EPSG(27700)}
	for _, p := range points {
		s.Points = append(s.Points, calib.ControlPoint{At: calib.PicturePt{Col: p[0], Row: p[1]}, Ref: geodesy.Grid{E: p[2], N: p[3]}})
	}
	return s
}

func corners() [][4]float64 {
	return [][4]float64{
		{200, 200, 51_000, 799_000},
		{1800, 1800, 59_000, 791_000},
		{200, 1800, 51_000, 791_000},
		{1800, 200, 59_000, 799_000},
	}
}

func checkedSheet() plan.Sheet { return pillared(sheetOf(corners()...)) }

// pillared is a sheet at 5 m a pixel, whose top-left corner lies at E 50 000 N 800 000,
// with two pillars of a list as evidence, which check it.
func pillared(s plan.Sheet) plan.Sheet {
	for _, p := range []calib.Evidence{
		{At: calib.PicturePt{Col: 1052, Row: 374}, Text: "NL 55260 98130", Ref: geodesy.Grid{E: 55260, N: 798130}},
		{At: calib.PicturePt{Col: 702, Row: 1504}, Text: "NL 53510 92480", Ref: geodesy.Grid{E: 53510, N: 792480}},
	} {
		p.Source, p.SigmaPx = calib.FromList, 0.5
		s = s.WithEvidence(p)
	}
	return s
}

func readerOf(t testing.TB, p *plan.Plan) *Reader {
	t.Helper()
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	r, err := NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func pick(t testing.TB, s plan.Sheet, col, row float64) plan.Position {
	t.Helper()
	c, err := s.Calibration()
	if err != nil {
		t.Fatal(err)
	}
	return plan.PickedAt(s, c, calib.PicturePt{Col: col, Row: row}, 0.5)
}

func typed(epsg int, e, n float64) plan.Position {
	return plan.Position{Grid: geodesy.Grid{E: e, N: n}, Code: geodesy.EPSG(epsg), Origin: plan.Typed, Text: "typed"}
}

func TestMagneticBackIsReadFromTheFarEnd(t *testing.T) {
	t.Parallel()
	s := NewSighter(geodesy.UTM(30, true), day, plan.Compass{})
	rapid.Check(t, func(rt *rapid.T) {
		a := geodesy.Grid{E: rapid.Float64Range(2e5, 8e5).Draw(rt, "e"), N: rapid.Float64Range(1e6, 8e6).Draw(rt, "n")}
		b := geodesy.Grid{E: a.E + rapid.Float64Range(-3e4, 3e4).Draw(rt, "de"), N: a.N + rapid.Float64Range(1, 3e4).Draw(rt, "dn")}
		there, err := s.Sight(a, b, 0, 0)
		if err != nil {
			rt.Fatal(err)
		}
		back, err := s.Sight(b, a, 0, 0)
		if err != nil {
			rt.Fatal(err)
		}
		for _, c := range []struct {
			name string
			diff units.Angle
		}{
			{"back magnetic there, magnetic back", there.BackMagnetic.Angle() - back.Magnetic.Angle()},
			{"back there, grid back", there.Back.Angle() - back.Grid.Angle()},
			{"true − γ, grid", there.True.Angle() - there.Convergence.Angle() - there.Grid.Angle()},
			{"true − D, magnetic", there.True.Angle() - there.Declination.Angle() - there.Magnetic.Angle()},
			{"grid − GMA, magnetic", there.Grid.Angle() - there.GMA.Angle() - there.Magnetic.Angle()},
		} {
			if math.Abs(c.diff.Signed().Deg()) > 1e-9 {
				rt.Fatalf("%s differ by %g°", c.name, c.diff.Signed().Deg())
			}
		}
		if math.Abs(there.GroundM-back.GroundM) > 1e-6 {
			rt.Fatalf("ground %g m there, %g m back", there.GroundM, back.GroundM)
		}
	})
}

func TestPrintedFiguresClose(t *testing.T) {
	t.Parallel()
	sys := geodesy.UTM(19, true)
	rapid.Check(t, func(rt *rapid.T) {
		circle := rapid.SampledFrom(units.Circles()).Draw(rt, "circle")
		compass := plan.Compass{Circle: circle, Set: rapid.Bool().Draw(rt, "set"), SetTo: units.Degrees(float64(rapid.IntRange(-30, 30).Draw(rt, "to")))}
		s := NewSighter(sys, day, compass)
		r, err := s.Sight(geodesy.Grid{E: 320_000, N: 4_900_000}, geodesy.Grid{
			E: 320_000 + rapid.Float64Range(-5e3, 5e3).Draw(rt, "de"), N: 4_900_000 + rapid.Float64Range(1, 5e3).Draw(rt, "dn"),
		}, 0, 0)
		if err != nil {
			rt.Fatal(err)
		}
		c, back := r.Closed(circle), r.ClosedBack(circle)
		mustClose(rt, circle, c)
		mustClose(rt, circle, back)
		printed := units.Angle(number(rt, back.Magnetic) / circle.PerTurn() * 2 * math.Pi)
		if off := math.Abs((printed - r.BackMagnetic.Angle()).Signed().Rad()); off > circle.Step().Rad()/2+1e-9 {
			rt.Fatalf("magnetic back bearing %s is more than half a step from %.3f°", back.Magnetic, r.BackMagnetic.Angle().Deg())
		}
		want := map[SetKind]string{SetMagnetic: c.Magnetic, SetGrid: c.Grid}
		if w, ok := want[r.SetKind]; ok && r.SetFigure(circle) != w {
			rt.Fatalf("figure to set %s, want %s", r.SetFigure(circle), w)
		}
		if compass.Set == (r.SetKind == SetMagnetic) {
			rt.Fatalf("housing set %v, but the figure is of kind %d", compass.Set, r.SetKind)
		}
	})
}

// mustClose fails unless printed magnetic = printed grid − printed GMA.
func mustClose(t *rapid.T, circle units.Circle, c units.Closed) {
	grid, mag, gma := number(t, c.Grid), number(t, c.Magnetic), number(t, c.GMA)
	if strings.HasSuffix(c.GMA, "west") {
		gma = -gma
	}
	if off := math.Abs(units.Angle((grid - gma - mag) / circle.PerTurn() * 2 * math.Pi).Signed().Rad()); off > 1e-9 {
		t.Fatalf("%s less %s is not %s", c.Grid, c.GMA, c.Magnetic)
	}
}

func number(t *rapid.T, s string) float64 {
	end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.", r) })
	v, err := strconv.ParseFloat(s[:end], 64)
	if err != nil {
		t.Fatalf("no number at the head of %q", s)
	}
	return v
}

// A compass housing is simulated: with b on the ring and the needle boxed, the
// walker goes on magnetic b − A, where A is the angle the housing is set to.
// Whatever A is, the figure to set must lead along the line on the map.
func TestTheFigureToSetLeadsAlongTheLine(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		set       bool
		toDeg     float64 // relative to today's GMA
		kind      SetKind
		cautioned bool
		tolDeg    float64
	}{
		{"not set", false, 0, SetMagnetic, false, 1e-9},
		{"set to today's", true, 0, SetGrid, false, 1e-9},
		{"set half a degree off", true, 0.49, SetGrid, false, 0.5},
		{"set years ago", true, -3, SetAdjusted, true, 1e-9},
		{"set in another country", true, 18, SetAdjusted, true, 1e-9},
	} {
		sys := system(t, 2193) // New Zealand, where D is above 20° east
		a, b := geodesy.Grid{E: 1_600_000, N: 5_200_000}, geodesy.Grid{E: 1_600_700, N: 5_198_000}
		plain, err := sightOn(sys, day, a, b, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		compass := plan.Compass{Set: c.set, SetTo: (plain.GMA.Angle() + units.Degrees(c.toDeg)).Signed()}
		r, err := NewSighter(sys, day, compass).Sight(a, b, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		walked := r.Set
		if c.set {
			walked -= compass.SetTo
		}
		if off := (walked - r.Magnetic.Angle()).Signed().Deg(); math.Abs(off) > c.tolDeg {
			t.Errorf("%s: set %.2f°, walked %.2f° magnetic, want %.2f°", c.name, r.Set.Deg(), walked.Turn().Deg(), r.Magnetic.Angle().Deg())
		}
		if r.SetKind != c.kind || r.Has(caution.HousingOff) != c.cautioned {
			t.Errorf("%s: kind %d, cautioned %v, want kind %d and %v", c.name, r.SetKind, r.Has(caution.HousingOff), c.kind, c.cautioned)
		}
		back := r.BackSetFigure(compass)
		figure, north, _ := strings.Cut(back, " ")
		set, err := units.ParseBearing(figure, compass.Circle)
		if err != nil || north != c.kind.North(compass) {
			t.Errorf("%s: the back bearing to set is %q, %v; want one with %q", c.name, back, err, c.kind.North(compass))
		}
		if c.set {
			set -= compass.SetTo
		}
		if off := (set - r.BackMagnetic.Angle()).Signed().Deg(); math.Abs(off) > c.tolDeg+0.5 { // printed to the degree
			t.Errorf("%s: set %s for the way back, %.2f° out", c.name, back, off)
		}
	}
}

func TestCautions(t *testing.T) {
	t.Parallel()
	base := plan.New(day)
	two, lost := sheetOf(corners()[:2]...), sheetOf(corners()[:1]...)
	for _, c := range []struct {
		name     string
		plan     *plan.Plan
		from, to plan.Position
		want     []caution.Code // in order
		magnetic bool
	}{
		{"checked, four points", base.SetSheet(checkedSheet()), pick(t, checkedSheet(), 500, 500), pick(t, checkedSheet(), 900, 700), []caution.Code{caution.ScopeGrid}, true},
		{"unchecked, four points", base.SetSheet(sheetOf(corners()...)), pick(t, two, 500, 500), pick(t, two, 900, 700), []caution.Code{caution.Unchecked}, true},
		{"two points", base.SetSheet(two), pick(t, two, 500, 500), pick(t, two, 900, 700), []caution.Code{caution.Unchecked, caution.OpenSlip, caution.NoRedundancy}, true},
		{"one picked end is enough", base.SetSheet(two), typed(27700, 53_000, 797_000), pick(t, two, 900, 700), []caution.Code{caution.Unchecked, caution.OpenSlip, caution.NoRedundancy}, true},
		{"typed ends owe the sheet nothing", base.SetSheet(two), typed(27700, 53_000, 797_000), typed(27700, 54_000, 796_000), nil, true},
		{"calibration lost", base.SetSheet(lost), pick(t, two, 500, 500), pick(t, two, 900, 700), []caution.Code{caution.Uncalibrated}, true},
		{"sheet gone", base, pick(t, two, 500, 500), pick(t, two, 900, 700), []caution.Code{caution.SheetGone}, true},
		{"short", base.SetSheet(checkedSheet()), pick(t, checkedSheet(), 500, 500), pick(t, checkedSheet(), 503, 500), []caution.Code{caution.ScopeGrid, caution.VagueBearing}, true},
		{"no date", base.SetSheet(checkedSheet()).SetDate(plan.Date{}), typed(27700, 53_000, 797_000), typed(27700, 54_000, 796_000), []caution.Code{caution.NoDate}, false},
		{"1994", base.SetDate(plan.Date{Year: 1994, Month: 5, Day: 1}), typed(27700, 53_000, 797_000), typed(27700, 54_000, 796_000), []caution.Code{caution.OutsideModel}, false},
		{"2031", base.SetDate(plan.Date{Year: 2031, Month: 5, Day: 1}), typed(27700, 53_000, 797_000), typed(27700, 54_000, 796_000), []caution.Code{caution.OutsideModel}, false},
		{"outside the grid's area", base, typed(32630, 100_000, 6_000_000), typed(32630, 101_000, 6_000_000), []caution.Code{caution.OutsideArea}, true},
		{"near the magnetic pole", base, typed(32653, 510_000, 9_315_000), typed(32653, 511_000, 9_316_000), []caution.Code{caution.BlackoutZone}, false},
		{"high arctic", base, typed(32653, 500_000, 8_800_000), typed(32653, 501_000, 8_801_000), []caution.Code{caution.WeakField, caution.RoughBearing}, true},
	} {
		r, err := readerOf(t, c.plan).Read(c.from, c.to)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var codes []caution.Code
		for _, f := range r.Cautions {
			codes = append(codes, f.Code)
		}
		if !slices.Equal(codes, c.want) {
			t.Errorf("%s: cautions %q, want %q", c.name, codes, c.want)
		}
		if r.HasMagnetic != c.magnetic {
			t.Errorf("%s: HasMagnetic = %v, want %v", c.name, r.HasMagnetic, c.magnetic)
		}
		if !c.magnetic && (r.Magnetic != 0 || r.BackMagnetic != 0 || r.GMA != 0 || r.SetKind != SetNone || r.SetFigure(units.WholeDegrees) != "" || r.Closed(units.WholeDegrees).Magnetic != "") {
			t.Errorf("%s: magnetic figures leak: %+v", c.name, r)
		}
	}
}

func TestACoarseShiftIsSaid(t *testing.T) {
	t.Parallel()
	// Outside the OSTN15 grid the National Grid rests on the seven-parameter
	// shift, good to some metres.
	r, err := NewSighter(system(t, 27700), day, plan.Compass{}).Sight(geodesy.Grid{E: -90_000, N: 400_000}, geodesy.Grid{E: -91_000, N: 400_000}, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Has(caution.CoarseShift) || !r.Has(caution.AreaEdge) {
		t.Errorf("cautions %v, shift %q: want coarse-shift and area-edge", r.Cautions, r.Shift)
	}
}

func TestReadingsThatCannotBe(t *testing.T) {
	t.Parallel()
	r := readerOf(t, plan.New(day).SetSheet(checkedSheet()))
	a := typed(27700, 53_000, 797_000)
	if _, err := r.Read(a, a); !errors.Is(err, ErrNoBearing) {
		t.Errorf("same position: %v, want ErrNoBearing", err)
	}
	for _, c := range []struct {
		name string
		to   plan.Position
		want error
	}{
		{"NaN", typed(27700, math.NaN(), 0), geodesy.ErrNotFinite},
		{"infinite", typed(27700, 0, math.Inf(1)), geodesy.ErrNotFinite},
		{"beyond the series", typed(27700, 1e8, 0), geodesy.ErrOutsideSeries},
	} {
		if _, err := r.Read(a, c.to); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

func TestAnEndOnAnotherGridIsBroughtOver(t *testing.T) {
	t.Parallel()
	british, utm := system(t, 27700), geodesy.UTM(29, true)
	from := typed(27700, 53_000, 797_000)
	to := geodesy.Grid{E: 54_200, N: 796_100}
	wgs, _, err := british.ToWGS84(to)
	if err != nil {
		t.Fatal(err)
	}
	g, _, _, err := utm.FromWGS84(wgs)
	if err != nil {
		t.Fatal(err)
	}
	r, err := readerOf(t, plan.New(day).SetSheet(checkedSheet())).Read(from, typed(utm.EPSG(), g.E, g.N))
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.GridM-1500) > 0.002 {
		t.Errorf("grid length %.4f m, want 1500", r.GridM)
	}
	if r.ToSigmaM <= 0 {
		t.Error("bringing a position over from another grid cost no σ")
	}
}

func TestRows(t *testing.T) {
	t.Parallel()
	p := plan.New(day).SetSheet(checkedSheet())
	p = p.AddMark(plan.Mark{ID: "mark-1", Name: "Cairn", Position: typed(27700, 53_000, 797_000)})
	m, _ := p.MarkByID("mark-1")
	end := plan.AtPosition(typed(27700, 53_000, 798_000))
	p = p.AddLeg(plan.Leg{ID: "leg-1", From: plan.AtMark(m), To: end, TickOff: "stream"})
	p = p.AddLeg(plan.Leg{ID: "leg-2", From: end, To: end})
	p = p.AddSight(plan.Sight{ID: "sight-1", From: end, To: plan.AtMark(m)})
	rows := readerOf(t, p).Legs()
	one := rows[0]
	if one.From != "Cairn" || one.To != "A" || one.TickOff != "stream" || one.Err != nil {
		t.Errorf("row 1: %+v", one)
	}
	// 1000 m of grid, 347 km west of the central meridian: scale 0.9996013 ×
	// (1 + (347/6380)²/2) = 1.00108, so 998.9 m of ground, at 4 and 8 km/h and
	// 64 double paces to 100 m.
	paces, sigma := one.Reading.Paces(p.Party, one.Per100m(p.Party))
	if math.Abs(one.Time.Minutes()-14.984) > 0.002 || math.Abs(one.RunTime.Minutes()-7.492) > 0.001 || math.Abs(paces-639.3) > 0.1 || math.Abs(sigma-63.9) > 0.1 {
		t.Errorf("row 1: %v, %v, %.1f ± %.1f paces, want 14.984 min, 7.492 min, 639.3 ± 63.9", one.Time, one.RunTime, paces, sigma)
	}
	if !errors.Is(rows[1].Err, ErrNoBearing) || rows[1].Time != 0 {
		t.Errorf("row 2: %v, want ErrNoBearing", rows[1].Err)
	}
	sights := readerOf(t, p).Sights()
	if len(sights) != 1 || sights[0].From != "A" || sights[0].To != "Cairn" || sights[0].Time != 0 {
		t.Errorf("sights: %+v", sights)
	}
}

func TestReferencesCarryNoMoreFiguresThanTheyShould(t *testing.T) {
	t.Parallel()
	square := typed(27700, 212_350, 745_650)
	square.SquareM, square.SigmaM = 100, 100/math.Sqrt(12)
	coarse := typed(27700, 212_350, 745_650)
	coarse.SigmaM = 80
	vague := typed(27700, 212_350, 745_650)
	vague.SigmaM = 600
	lost := typed(27700, 212_350, 745_650)
	lost.SigmaM = math.Inf(1)
	for _, c := range []struct {
		name string
		pos  plan.Position
		want string
	}{
		{"typed with six figures", square, "NN 123 456"},
		{"plain", typed(27700, 212_350, 745_650), "NN 1235 4565"},
		{"loose", coarse, "NN 123 456"},
		{"vague", vague, "NN 12 45"},
		{"of which nothing is known", lost, "NN 1 4"},
	} {
		r, err := readerOf(t, plan.New(day)).Read(c.pos, typed(27700, 213_000, 746_000))
		if err != nil || r.FromRef != c.want {
			t.Errorf("%s: reference %q, %v, want %q", c.name, r.FromRef, err, c.want)
		}
	}
}

// Latitude and longitude stop at the largest power of ten of a degree not above 2σ:
// 2 m are 1.8e-5°, 160 m are 1.4e-3°. OSTN15 adds nothing to speak of, DHDN's seven
// parameters several metres, with their ±. Places by cs2cs, to the 2 m in which it
// differs from OSTN15.
func TestLatitudeAndLongitudeStopWhereTheyAreUnknown(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		epsg   int
		sigmaM float64
		want   string
	}{
		{27700, 0, "56.565175°N 5.055541°W"},
		{27700, 1, "56.56517°N 5.05554°W"},
		{27700, 80, "56.565°N 5.056°W"},
		{31467, 1, "49.63671°N 8.99896°E ± 4 m"},
	} {
		pos := typed(c.epsg, 212_350, 745_650)
		if c.epsg == 31467 {
			pos = typed(c.epsg, 3_500_000, 5_500_000)
		}
		pos.SigmaM = c.sigmaM
		got, err := readerOf(t, plan.New(day)).LatLon(pos)
		if err != nil || got != c.want {
			t.Errorf("EPSG:%d ± %g m: %q, %v, want %q", c.epsg, 2*c.sigmaM, got, err, c.want)
		}
	}
}

func TestExport(t *testing.T) {
	t.Parallel()
	p := plan.New(day).SetSheet(sheetOf(corners()...)).SetTitle("Round")
	p = p.AddMark(plan.Mark{ID: "mark-1", Name: "Cairn", Note: "large", Position: pick(t, checkedSheet(), 600, 600)})
	m, _ := p.MarkByID("mark-1")
	b, c := plan.AtPosition(typed(27700, 54_000, 798_000)), plan.AtPosition(typed(27700, 55_000, 798_500))
	p = p.AddLeg(plan.Leg{ID: "leg-1", From: plan.AtMark(m), To: b, Catching: "ground drops"})
	p = p.AddLeg(plan.Leg{ID: "leg-2", From: b, To: c})
	p = p.AddLeg(plan.Leg{ID: "leg-3", From: b, To: plan.AtMark(m)})
	out, err := Export(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Marks) != 1 || len(out.Routes) != 2 || len(out.Routes[0]) != 3 || len(out.Routes[1]) != 2 {
		t.Fatalf("%d marks, routes %v, want 1 mark and routes of 3 and 2 points", len(out.Marks), out.Routes)
	}
	if !caution.Has(out.Cautions, caution.Unchecked) {
		t.Errorf("the whole says %v, not that the sheet is unchecked", out.Cautions)
	}
	if got := out.Marks[0]; got.Desc != "large" || !caution.Has(got.Lasting, caution.Unchecked) {
		t.Errorf("the mark is described %q with %v, want its note alone and unchecked", got.Desc, got.Lasting)
	}
	row := readerOf(t, p).Legs()[0]
	closed := row.Reading.Closed(units.WholeDegrees)
	for _, want := range []string{"leg 1, Cairn to A", closed.Grid + " grid", "GMA " + closed.GMA, closed.Magnetic + " mag", "25 November 2026", "catching feature: ground drops"} {
		if !strings.Contains(out.Routes[0][0].Desc, want) {
			t.Errorf("description %q lacks %q", out.Routes[0][0].Desc, want)
		}
	}
	back, _, _, err := system(t, 27700).FromWGS84(out.Routes[0][1].At)
	if err != nil || math.Hypot(back.E-54_000, back.N-798_000) > 0.002 {
		t.Errorf("point 2 is at %v, %v, want 54000 798000", back, err)
	}
}

// Every bearing and distance of an exported leg has its ±, also where the ends are so
// well known that it is below half a printed step.
func TestExportedFiguresHaveTheirHalfWidth(t *testing.T) {
	t.Parallel()
	for circle, want := range map[units.Circle]string{units.WholeDegrees: "°", units.HalfDegrees: "°", units.Mils6400: " mil", units.Gon400: " gon"} {
		p := plan.New(day).SetParty(plan.Party{Compass: plan.Compass{Circle: circle}})
		from, to := plan.AtPosition(typed(27700, 54_000, 798_000)), plan.AtPosition(typed(27700, 64_000, 808_000))
		out, err := Export(p.AddLeg(plan.Leg{ID: "leg-1", From: from, To: to}), nil)
		if err != nil {
			t.Fatal(err)
		}
		half := `± [1-9]?[0-9]*(\.5)?` + want
		if got := out.Routes[0][0].Desc; !regexp.MustCompile(` grid ` + half + `, GMA .* mag ` + half + `, [0-9\x{2009}]+ m ± [0-9.]+; `).MatchString(got) {
			t.Errorf("%v: %q: a bearing or the distance has no ±", circle, got)
		}
	}
}

// A reading must keep up with the pointer, so it makes little garbage. The
// benchmark gives its time.
func TestReadingMakesLittleGarbage(t *testing.T) {
	r := readerOf(t, plan.New(day).SetSheet(checkedSheet()))
	a, b := pick(t, checkedSheet(), 500, 500), pick(t, checkedSheet(), 900, 700)
	if _, err := r.Read(a, b); err != nil {
		t.Fatal(err)
	}
	if allocs := testing.AllocsPerRun(100, func() { _, _ = r.Read(a, b) }); allocs > 22 {
		t.Errorf("a reading allocates %v times, want at most 22", allocs)
	}
}
