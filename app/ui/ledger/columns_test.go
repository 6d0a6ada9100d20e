package ledger

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/lettering"
	"legwright/app/light"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/app/units"
)

// At every width the columns stand side by side without a gap, none below its least,
// and fill the width where there is room; from seenWhole on all of them are seen.
func TestSpansFillTheWidth(t *testing.T) {
	t.Parallel()
	cols := columns()
	for _, total := range []float32{300, 525, seenWhole, 1100, 1592, 2400} {
		at, wide, all := spans(cols, total)
		end := float32(0)
		for i, c := range cols {
			if wide[i] < c.least-0.01 || at[i] < end-0.01 || at[i] > end+0.01 {
				t.Errorf("at %v column %q is %v wide at %v; want %v or more at %v", total, c.head, wide[i], at[i], c.least, end)
			}
			if total < seenWhole && c.style.note && wide[i] < 150 {
				t.Errorf("at %v a note in %q has %v, where the table moves sideways all the same", total, c.head, wide[i])
			}
			end = at[i] + wide[i]
		}
		if end < all-0.5 || end > all+0.5 || total >= seenWhole && (end < total-0.5 || end > total+0.5) {
			t.Errorf("at %v the columns end at %v, and say %v", total, end, all)
		}
	}
}

// Every figure that a column can show, and its head, fit its narrowest width whole: a
// cut bearing or distance would be a wrong one.
func TestFiguresAreNeverCut(t *testing.T) {
	t.Parallel()
	l := lettering.New().At(1.5)
	for _, c := range columns() {
		if c.style.figure && len(c.widest) == 0 {
			t.Errorf("column %q names no widest figure", c.head)
		}
		st := plain()
		if c.style.bold {
			st = bold()
		}
		room := c.least - 2*cellPad
		if w := l.Width(c.head, small()); w > room+2 {
			t.Errorf("the head %q is %.1f wide in a column with room for %.1f", c.head, w, room+2)
		}
		for _, most := range c.widest {
			if w, u := l.Width(most.text, st), l.Width(most.under, small()); w > room || u > room {
				t.Errorf("column %q: %+v is %.1f and %.1f wide, with room for %.1f", c.head, most, w, u, room)
			}
		}
	}
}

// At every width the ends of a leg show their whole reference, whatever the grid, with the
// height of the end: one that is cut is that of another square.

func TestReferencesAreNeverCut(t *testing.T) {
	t.Parallel()
	x := &table{letters: lettering.New()}
	const perDegree = 111_319.49 // metres, of a grid of degrees
	for _, c := range []struct {
		name string
		code int
		at   geodesy.Grid
		want string
	}{
		{"British", 27700, geodesy.Grid{E: 188_888, N: 588_888}, "NW 88888 88888"},
		{"Irish", 29903, geodesy.Grid{E: 288_888, N: 288_888}, "N 88888 88888"},
		{"MGRS", 32630, geodesy.Grid{E: 488_888, N: 6_288_888}, "30V VH 88888 88888"},
		{"UTM", 25832, geodesy.Grid{E: 488_888, N: 6_288_888}, "32V MH 88888 88888"},
		{"plain", 2056, geodesy.Grid{E: 2_688_888, N: 1_188_888}, "2688888 1188888"},
		{"degrees", 4326, geodesy.Grid{E: -107 * perDegree, N: 56 * perDegree}, "56.000000°N 106.999999°W"},
	} {
		sys, err := geodesy.Lookup(geodesy.EPSG(c.code))
		if err != nil {
			t.Fatal(err)
		}
		r := full(t, "2026-11-28")
		if r.Reading.FromRef, err = sys.FormatRef(c.at, 10); err != nil {
			t.Fatal(err)
		}
		r.Reading.ToRef, r.EndM = r.Reading.FromRef, 1343
		x.fill(columns(), rowsOf(columns(), []leg.Row{full(t, "2026-11-28"), r}, plan.New(plan.Date{})), "")
		for _, width := range []float32{300, 525, 1072, seenWhole, 1592, 2400} {
			_, wide, _ := spans(x.cols, width)
			for _, head := range []string{"from", "to"} {
				i := slices.IndexFunc(x.cols, func(c column) bool { return c.head == head })
				under := x.rows[1].cell(i).under
				if shown := x.letters.Fit(under, small(), wide[i]-2*cellPad); shown != under || !strings.HasPrefix(under, c.want) {
					t.Errorf("%s: at %v %q shows %q of %q, want %q in it", c.name, width, head, shown, under, c.want)
				}
			}
		}
	}
}

// full is a row of which everything is known, on the demo's ground.
func full(t *testing.T, date string) leg.Row {
	t.Helper()
	d, err := plan.ParseDate(date)
	if err != nil {
		t.Fatal(err)
	}
	sys, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	r, err := leg.NewSighter(sys, d, plan.Compass{}).Sight(geodesy.Grid{E: 27455, N: 743150}, geodesy.Grid{E: 27760, N: 743335}, 20, 20)
	r.FromRef, r.ToRef = "NL 27455 43150", "NL 27760 43335"
	if err != nil {
		t.Fatal(err)
	}
	return leg.Row{
		ID: "leg-1", From: "Quay", To: "Pillar", Reading: r,
		Timed: leg.Timed{
			Time: 5 * time.Minute, RunTime: 3 * time.Minute, Light: light.Dark,
			Leave: time.Date(2026, 11, 28, 17, 0, 0, 0, time.UTC), Arrive: time.Date(2026, 11, 29, 0, 5, 0, 0, time.UTC),
		},
		Heights: leg.Heights{Climb: leg.Rise{M: 70, From: leg.RiseCounted}, Descent: leg.Rise{M: 8, From: leg.RiseTerrain}, EndM: 62, HasEnd: true},
		TickOff: "wall", Catching: "the ground falls", Note: "stile",
	}
}

// Every cell of a leg of which everything is known has a text, and its second line
// where the column has one (that of the number only under a stop): a column that nobody fills would stay blank unseen.
func TestEveryCellIsFilled(t *testing.T) {
	t.Parallel()
	r := rowOf(columns(), shown{full(t, "2026-11-28"), 7, plan.New(plan.Date{Year: 2026, Month: 11, Day: 28})})
	seen := map[string]bool{}
	for i, c := range columns() {
		got := r.cell(i)
		if got.text == "" || seen[c.head] {
			t.Errorf("column %q shows %+v", c.head, got)
		}
		seen[c.head] = true
		two := i > 0 && slices.ContainsFunc(c.widest, func(w cell) bool { return w.under != "" })
		if (two || strings.Contains("from to", c.head)) && got.under == "" {
			t.Errorf("column %q has no second line", c.head)
		}
	}
}

// Running counts no climb: where a leg climbs it takes more, and where nobody gets through there is none.
func TestRunningIsOnTheFlat(t *testing.T) {
	t.Parallel()
	row := full(t, "2026-11-28")
	if got := walking(shown{Row: row}).under; got != "run: 3 min+" {
		t.Errorf("over 70 m of climb: got %q, want run: 3 min+", got)
	}
	row.Climb.M = 0
	if got := walking(shown{Row: row}); got.under != "run: 3 min" || strings.HasSuffix(got.text, "+") {
		t.Errorf("without climb: got %q and %q, want run: 3 min", got.text, got.under)
	}
	row.Climb = leg.Rise{}
	if got := walking(shown{Row: row}); got.under != "run: 3 min+" || !strings.HasSuffix(got.text, " min+") {
		t.Errorf("over climb that is not known: got %q and %q, want a plus at each", got.text, got.under)
	}
	row.Time = 0
	if got := walking(shown{Row: row}); got.text != "none" || got.under != "" {
		t.Errorf("without a way through: got %q and %q, want none alone", got.text, got.under)
	}
}

// The profile of an escape is that of its legs one after the other; where one of them has none the
// cell says so.
func TestProfileOfAnEscape(t *testing.T) {
	t.Parallel()
	part := func(heights ...float64) terrain.Profile {
		var p terrain.Profile
		for i, h := range heights {
			p.Points = append(p.Points, terrain.Point{AlongM: 100 * float64(i), HeightM: h})
		}
		return p
	}
	cols := columns()
	at := slices.IndexFunc(cols, func(c column) bool { return c.style.ground })
	for name, c := range map[string]struct {
		second  terrain.Profile
		lengthM float64
		want    cell
	}{
		"whole":  {part(30, 20), 300, cell{}},
		"a gap":  {part(30, math.NaN()), 300, cell{"", "gaps"}},
		"a void": {terrain.Profile{}, 0, cell{"?", "no terrain"}},
	} {
		var e escape.Escape
		e.Legs = []escape.Leg{{Profile: part(50, 40, 30)}, {Profile: c.second}}
		rows := offRows(cols, escape.Judged{Escapes: []escape.Escape{e}}, plan.New(plan.Date{}), 0)
		if got := rows[0]; got.cell(at) != c.want || got.ground.LengthM() != c.lengthM {
			t.Errorf("%s: %q over %g m, want %q over %g m", name, got.cell(at), got.ground.LengthM(), c.want, c.lengthM)
		}
	}
}

// The climb says what is known of it: both figures, one of them, that terrain does not reach, or nothing.
func TestClimbCell(t *testing.T) {
	t.Parallel()
	up, down := leg.Rise{M: 1240.4, From: leg.RiseTerrain}, leg.Rise{M: 35.5, From: leg.RiseCounted}
	missing := []caution.Caution{caution.Of(caution.NoTerrain)}
	for _, c := range []struct {
		h    leg.Heights
		want cell
	}{
		{leg.Heights{Climb: up, Descent: down}, cell{"+1240", "−36 m"}},
		{leg.Heights{Descent: down, HeightCautions: missing}, cell{"+?", "−36 m"}},
		{leg.Heights{HeightCautions: missing}, cell{"?", "no terrain"}},
		{leg.Heights{}, cell{"–", "uncounted"}},
	} {
		if got := climb(shown{Row: leg.Row{Heights: c.h}}); got != c.want {
			t.Errorf("%+v: got %+v, want %+v", c.h, got, c.want)
		}
	}
}

// Without a magnetic model there is no magnetic figure; a leg without a reading has no
// figure at all, only the reason.
func TestMissingFigures(t *testing.T) {
	t.Parallel()
	cols := columns()
	r := rowOf(cols, shown{full(t, "2031-01-01"), 1, plan.New(plan.Date{})})
	for i, c := range cols {
		if text := r.cell(i).text + r.cell(i).under; strings.Contains(text, "mag") || c.head == "magnetic" && text != "none" {
			t.Errorf("column %q shows %q", c.head, text)
		}
	}
	r = rowOf(cols, shown{leg.Row{From: "A", To: "B", Err: errors.New("no bearing"), Note: "stile"}, 1, plan.New(plan.Date{})})
	if r.fault == "" || !r.stopped {
		t.Errorf("no reason for a leg without a reading: %+v", r)
	}
	for i, c := range cols {
		if text := r.cell(i).text + r.cell(i).under; c.style.figure && text != "" {
			t.Errorf("column %q shows %q without a reading", c.head, text)
		}
	}
}

// A leg that nobody may walk on is marked in its row and in the sum; one with a note,
// or with what concerns latitude and longitude alone, is not.
func TestStoppedLegsAreMarked(t *testing.T) {
	t.Parallel()
	for code, want := range map[caution.Code]bool{caution.PoorFit: true, caution.Unchecked: false, caution.ShiftUnknown: false} {
		r := leg.Row{Reading: leg.Reading{Cautions: []caution.Caution{caution.Of(code)}, GroundM: 100}}
		row := rowOf(columns(), shown{r, 1, plan.New(plan.Date{})})
		sum := totals([]leg.Row{r, {Reading: leg.Reading{GroundM: 50}}}, escape.Judged{}, &plan.Plan{})
		if got := row.cell(0).under == "STOP"; got != want || row.stopped != want || strings.HasPrefix(sum, "1 leg marked STOP") != want {
			t.Errorf("%v: row %v, sum %q; want marked %v", code, row.cell(0), sum, want)
		}
	}
	if text := totals([]leg.Row{{Err: errors.New("no bearing")}, {Reading: leg.Reading{GroundM: 50}}}, escape.Judged{}, &plan.Plan{}); !strings.Contains(text, "1 leg without a reading") {
		t.Errorf("a leg that cannot be read is left out of %q without a word", text)
	}
}

// What speaks against the route and its escapes stands before every figure of the sum.
func TestStopsBeginTheHeading(t *testing.T) {
	t.Parallel()
	stop := []caution.Caution{caution.Of(caution.PoorFit)}
	legs := []leg.Row{{Reading: leg.Reading{Cautions: stop, GroundM: 100}}, {Err: errors.New("no bearing")}, {Timed: leg.Timed{Light: light.Dark}}}
	off := escape.Judged{Escapes: []escape.Escape{{Cautions: stop}, {Draft: true}, {}}}
	got := totals(legs, off, &plan.Plan{})
	const want = "1 leg marked STOP, not counting 1 leg without a reading, DARK on leg 3, 1 escape marked STOP, 1 escape DRAFT, 3 legs, "
	if !strings.HasPrefix(got, want) || !strings.HasSuffix(got, ", 1 escape") {
		t.Errorf("the heading is %q", got)
	}
}

// Time and clock say what they do not know and what is dark, and so does the heading.
func TestTimesOfRows(t *testing.T) {
	t.Parallel()
	p := plan.New(plan.Date{Year: 2026, Month: 11, Day: 28})
	at := func(day, hour int) time.Time { return time.Date(2026, 11, day, hour, 5, 0, 0, time.UTC) }
	tooMuch := []caution.Caution{caution.Of(caution.TooMuch)}
	for _, c := range []struct {
		name  string
		timed leg.Timed
		time  string
		clock cell
		says  string
	}{
		{"by day", leg.Timed{Time: time.Hour, Arrive: at(28, 11), Light: light.Daylight}, "1 h 00+", cell{"11:05", ""}, "ends at 11:05"},
		{"dusk", leg.Timed{Time: time.Hour, Arrive: at(28, 16), Light: light.Twilight}, "1 h 00+", cell{"16:05", "dusk"}, "ends at 16:05"},
		{"dark", leg.Timed{Time: time.Hour, Arrive: at(28, 18), Light: light.Dark}, "1 h 00+", cell{"18:05", "dark"}, "DARK on leg 1"},
		{"next day", leg.Timed{Time: time.Hour, Arrive: at(29, 1), Light: light.Dark}, "1 h 00+", cell{"01:05", "day 2 dark"}, "ends at 01:05 (day 2)"},
		{"or later", leg.Timed{Time: time.Hour, Arrive: at(28, 11), OrLater: true, Light: light.Daylight}, "1 h 00+", cell{"11:05", "or later"}, "ends at 11:05 or later"},
		{"dark or later", leg.Timed{Time: time.Hour, Arrive: at(28, 18), OrLater: true, Light: light.Dark}, "1 h 00+", cell{"18:05+", "dark"}, "ends at 18:05 or later"},
		{"no start", leg.Timed{Time: time.Hour}, "1 h 00+", cell{"–", ""}, "walking 1 h 00 with no climb counted"},
		{"no time", leg.Timed{}, "none", cell{"–", ""}, "1 leg"},
		{"too long", leg.Timed{TimeCautions: tooMuch}, "too long", cell{"–", ""}, "too long for the party"},
	} {
		r := leg.Row{Timed: c.timed, Reading: leg.Reading{GroundM: 500}}
		s := shown{r, 1, p}
		if got := walking(s).text; got != c.time {
			t.Errorf("%s: time %q, want %q", c.name, got, c.time)
		}
		if got := clock(s); got != c.clock {
			t.Errorf("%s: clock %+v, want %+v", c.name, got, c.clock)
		}
		if got := totals([]leg.Row{r}, escape.Judged{}, p); !strings.Contains(got, c.says) {
			t.Errorf("%s: the heading says %q, want %q in it", c.name, got, c.says)
		}
	}
	night := leg.Row{Timed: leg.Timed{Time: time.Hour, Arrive: at(28, 18), Light: light.Dark}}
	if got := totals([]leg.Row{{}, night, night, night}, escape.Judged{}, p); !strings.HasPrefix(got, "DARK on 3 legs from leg 2, ") {
		t.Errorf("of three dark legs the heading says %q", got)
	}
	known := leg.Row{Timed: leg.Timed{Time: time.Hour, Arrive: at(28, 11)}}
	if got := totals([]leg.Row{known, {}, {}}, escape.Judged{}, p); !strings.Contains(got, "no clock times from leg 2 on") || !strings.Contains(got, "not counting legs 2,\u00a03") || strings.Contains(got, "end 11") {
		t.Errorf("the heading says %q", got)
	}
}

// An escape that waits to be judged shows its ends and that it waits, and no figure; the sum says
// so before everything else, and counts nothing as drafted or whole.
func TestAWayOffWaitsInTheLedger(t *testing.T) {
	t.Parallel()
	e := escape.Escape{ID: "e", Name: "E00-1", From: "Cairn", To: "Hut", Waits: true, Legs: make([]escape.Leg, 2), Cautions: []caution.Caution{caution.Of(caution.EscapeNotJudged)}}
	off := escape.Judged{Escapes: []escape.Escape{e}, Waits: true}
	row := withEscapes(columns(), nil, off, &plan.Plan{})[0]
	var got []string
	for i := range columns() {
		c := row.cell(i)
		if c != (cell{}) {
			got = append(got, c.text+"/"+c.under)
		}
	}
	if want := []string{"E00-1/wait", "Cairn/escape", "Hut/", "not judged yet/"}; !row.stopped || !slices.Equal(got, want) {
		t.Errorf("stopped %v, %q, want %q", row.stopped, got, want)
	}
	if got := totals(nil, off, &plan.Plan{}); got != "1 escape not judged yet, no legs" {
		t.Errorf("the sum says %q", got)
	}
}

// The length is counted off in hundreds of metres and double paces, and its ± (95 %) is in
// metres: 430 m are 4 × 100 m and 19 at 64 double paces.
func TestPacesCountHundreds(t *testing.T) {
	t.Parallel()
	p := plan.New(plan.Date{})
	for m, want := range map[float64]cell{430: {"4×100 + 19", "± 90 m"}, 1000: {"10×100", "± 200 m"}, 30: {"19", "± 6 m"}, 12_000: {"–", ""}} {
		if got := paces(shown{leg.Row{Reading: leg.Reading{GroundM: m}}, 1, p}); got != want {
			t.Errorf("%v m: %+v, want %+v", m, got, want)
		}
	}
	p.Party.PacesPer100m = 0
	if got := paces(shown{leg.Row{Reading: leg.Reading{GroundM: 430}}, 1, p}); got != (cell{}) {
		t.Errorf("without a count: %+v", got)
	}
}

// A break of the route shows above the leg that begins elsewhere, and the sum names
// the legs of each route.
func TestBrokenRoute(t *testing.T) {
	t.Parallel()
	end := func(id plan.ID) plan.End { return plan.End{Mark: id} }
	for _, c := range []struct {
		way  string // the ends of the legs, two letters each
		gaps []int  // before these legs, from 1
		says string
	}{
		{"ab", nil, ""},
		{"ab bc cd", nil, ""},
		{"ab bc dc", []int{3}, " in 2 routes (1–2, 3)"},
		{"bc ab cd de", []int{2, 3}, " in 3 routes (1, 2, 3–4)"},
	} {
		p := &plan.Plan{}
		var legs []leg.Row
		for _, w := range strings.Fields(c.way) {
			l := plan.Leg{From: end(plan.ID(w[:1])), To: end(plan.ID(w[1:]))}
			p.Legs, legs = append(p.Legs, l), append(legs, leg.Row{FromEnd: l.From, ToEnd: l.To})
		}
		var gaps []int
		for i, r := range rowsOf(columns(), legs, p) {
			if r.gap != "" {
				gaps = append(gaps, i+1)
			}
		}
		if len(gaps) != len(c.gaps) || len(gaps) > 0 && gaps[0] != c.gaps[0] || routes(p.Chains()) != c.says {
			t.Errorf("%s: gaps before %v, %q; want %v, %q", c.way, gaps, routes(p.Chains()), c.gaps, c.says)
		}
	}
}

// Figures in mils have their ± in mils.
func TestMils(t *testing.T) {
	t.Parallel()
	p := plan.New(plan.Date{})
	p.Party.Compass.Circle = units.Mils6400
	s := shown{full(t, "2026-11-28"), 1, p}
	for name, c := range map[string]cell{"grid": gridBearing(s), "magnetic": magneticBearing(s), "back": back(s)} {
		if strings.Contains(c.text+c.under, "°") || !strings.Contains(c.text, "mil") || name != "back" && !strings.HasPrefix(c.under, "± ") {
			t.Errorf("%s: %+v", name, c)
		}
	}
}

// Minutes that leave out climb have a plus.
func TestStageWithoutClimbHasAPlus(t *testing.T) {
	t.Parallel()
	s := escape.Stage{On: 23 * time.Minute, Back: 21 * time.Minute, OnFlat: true}
	if got, want := offStage(wayOff{stage: s}), (cell{"23 min+ on", "21 min back"}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}
