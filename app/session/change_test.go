package session

import (
	"reflect"
	"testing"

	"legwright/app/calib"
	"legwright/app/calib/slips"
	"legwright/app/geodesy"
	"legwright/app/pace"
	"legwright/app/plan"
)

// acted is a session with something of every kind, for one intention to act on.
type acted struct {
	*Session
	t          *testing.T
	mark       plan.ID
	leg, later plan.ID
	sight      plan.ID
	crag, pool plan.ID
	heath      plan.ID
	hut, wall  plan.ID
	off, other plan.ID // escapes from one mark
}

func (a acted) at(col, row float64) plan.Position {
	pos, err := a.PositionAt(at(col, row), 0.5)
	must(a.t, err)
	return pos
}

func (a acted) end(col, row float64) plan.End { return plan.AtPosition(a.at(col, row)) }

// along returns positions at these columns, on a bent line.
func (a acted) along(cols ...float64) (out []plan.Position) {
	for i, col := range cols {
		out = append(out, a.at(col, 1000+100*float64(i*i)))
	}
	return out
}

func ready(t *testing.T) acted {
	t.Helper()
	s, _, _ := bench(t)
	a := acted{Session: s, t: t}
	var err error
	a.mark = mark(t, s, "Cairn", 600, 600)
	a.leg, err = s.KeepLeg(endAt(t, s, 600, 600), a.end(900, 700))
	must(t, err)
	a.later, err = s.KeepLeg(a.end(900, 700), a.end(1200, 900))
	must(t, err)
	a.sight, err = s.KeepSight(a.end(300, 300), a.end(400, 900))
	must(t, err)
	a.crag, err = s.AddHazard(plan.Crag, false, a.along(1500, 1600, 1700))
	must(t, err)
	a.heath, err = s.AddArea(pace.Rough, a.along(1520, 1620, 1720))
	must(t, err)
	a.pool, err = s.AddHazard(plan.Water, true, a.along(1510, 1610, 1710))
	must(t, err)
	a.hut, err = s.AddHaven(plan.OpenShelter, a.along(1520))
	must(t, err)
	a.wall, err = s.AddLine(plan.WallLine, a.along(1530, 1630, 1730))
	must(t, err)
	a.off, err = s.AddEscape(endAt(t, s, 600, 600), a.end(1900, 1800), "")
	must(t, err)
	must(t, s.ExtendEscape(a.off, a.end(1850, 1750), ""))
	a.other, err = s.AddEscape(endAt(t, s, 600, 600), a.end(1800, 1900), "")
	must(t, err)
	if own := s.Plan().EscapesFrom(a.mark); len(own) != 2 || !own[0].Chosen || own[1].Chosen {
		t.Errorf("the escapes of the mark are %+v, want the first of two chosen", own)
	}
	s.Select(a.sight)
	_, err = s.AddEvidence(calib.FromList, at(1052, 374), "NL 55260 98130", 0.5)
	must(t, err)
	must(t, s.OpenTerrain(plan.Terrain{Path: "/maps/isle.hgt", SHA256: noSum}))
	must(t, s.SaveAs("/plans/isle.legplan"))
	return a
}

// walk is an exchange file with something of every kind.
func walk() Imported {
	return Imported{
		Name:   "walk.gpx",
		Marks:  []ImportedPoint{{Name: "Ford", At: geodesy.DegLatLon(56.2, -6.3)}},
		Routes: [][]ImportedPoint{{{At: geodesy.DegLatLon(56.2, -6.3)}, {At: geodesy.DegLatLon(56.21, -6.3)}}},
		Tracks: []plan.Track{{Name: "Walked", Points: []geodesy.LatLon{geodesy.DegLatLon(56.2, -6.3)}}},
	}
}

// importOne imports something and saves it.
func (a acted) importOne() {
	_, err := importInto(a.Session, walk())
	must(a.t, err)
	must(a.t, a.SaveAs("/plans/isle.legplan"))
	a.quiet()
}

// intentions are all acts of a session, what each is to tell, and the parts that a
// listener must not be bothered with.
func intentions() map[string]struct {
	act  func(acted) error
	want Aspect
} {
	const done = FileChanged | HistoryChanged // the plan was saved before the act
	pic := Picture{Path: "/maps/north.png", Width: 2000, Height: 2000, SHA256: shaOf("ab")}
	matrix := [6]float64{5, 0, 50000, 0, -5, 800000}
	code := geodesy.EPSG(27700)
	points := []calib.ControlPoint{
		{At: at(200, 200), Ref: geodesy.Grid{E: 51000, N: 799000}, Source: calib.FilePoint},
		{At: at(1800, 1800), Ref: geodesy.Grid{E: 59000, N: 791000}, Source: calib.FilePoint},
		{At: at(200, 1800), Ref: geodesy.Grid{E: 51000, N: 791000}, Source: calib.FilePoint},
	}
	const shapes = HazardsChanged | HavensChanged | LinesChanged | AreasChanged | EscapesChanged
	const moved = CalibrationChanged | MarksChanged | LegsChanged | SightsChanged | shapes | done
	return map[string]struct {
		act  func(acted) error
		want Aspect
	}{
		"AddControlPoint": {func(a acted) error { _, err := a.AddControlPoint(at(200, 1800), "51000 791000"); return err }, CalibrationChanged | done},
		"AddEvidence": {func(a acted) error {
			_, err := a.AddEvidence(calib.FromList, at(702, 1504), "NL 53510 92480", 0.5)
			return err
		}, EvidenceChanged | done},
		"AddArea": {func(a acted) error {
			_, err := a.AddArea(pace.Plantation, a.along(100, 200, 300))
			return err
		}, AreasChanged | SelectionChanged | done},
		"SetAreaGround": {func(a acted) error { return a.SetAreaGround(a.heath, pace.Path) }, AreasChanged | done},
		"AddHazard": {func(a acted) error {
			_, err := a.AddHazard(plan.Bog, false, a.along(100, 200))
			return err
		}, HazardsChanged | SelectionChanged | done},
		"AddHaven": {func(a acted) error {
			_, err := a.AddHaven(plan.RoadHaven, a.along(100, 200))
			return err
		}, HavensChanged | SelectionChanged | done},
		"AddLine": {func(a acted) error {
			_, err := a.AddLine(plan.PathLine, a.along(100, 200))
			return err
		}, LinesChanged | SelectionChanged | done},
		"AddEscape": {func(a acted) error {
			cairn, _ := a.Plan().MarkByID(a.mark)
			_, err := a.AddEscape(plan.AtMark(cairn), a.end(1700, 1700), a.wall)
			return err
		}, EscapesChanged | SelectionChanged | done},
		"ExtendEscape": {func(a acted) error { return a.ExtendEscape(a.off, a.end(1700, 1700), a.wall) }, EscapesChanged | SelectionChanged | done},
		"KeepEscape": {func(a acted) error {
			e, _ := a.Plan().EscapeByID(a.off)
			_, err := a.KeepEscape(e.End(), a.end(1700, 1700), "")
			return err
		}, EscapesChanged | SelectionChanged | done},
		"ShortenEscape":   {func(a acted) error { return a.ShortenEscape(a.off) }, EscapesChanged | done},
		"ReverseEscape":   {func(a acted) error { return a.ReverseEscape(a.off) }, EscapesChanged | done},
		"SetEscapeCounts": {func(a acted) error { return a.SetEscapeCounts(a.off, 1, "7 x 10 / 3 x 10") }, EscapesChanged | done},
		"TickEscape": {func(a acted) error {
			return a.TickEscape(a.off, 1, plan.Ticks{Crags: true, Of: "ab12"})
		}, EscapesChanged | done},
		"MoveEscapeUp":   {func(a acted) error { return a.MoveEscapeUp(a.other) }, EscapesChanged | done},
		"MoveEscapeDown": {func(a acted) error { return a.MoveEscapeDown(a.off) }, EscapesChanged | done},
		"ChooseEscape":   {func(a acted) error { return a.ChooseEscape(a.other, true) }, EscapesChanged | done},
		"SetSnow":        {func(a acted) error { return a.SetSnow(plan.SnowLying) }, DateChanged | done},
		"SetOverSteep":   {func(a acted) error { return a.SetOverSteep("22") }, TerrainChanged | done},
		"SetLatest":      {func(a acted) error { return a.SetLatest("17:30") }, TimingChanged | done},
		"InsertPoint":    {func(a acted) error { return a.InsertPoint(a.wall, 1, a.at(1580, 1000)) }, LinesChanged | done},
		"AddSteep": {func(a acted) error {
			_, err := a.AddSteep([][]geodesy.Grid{{{E: 52_000, N: 795_000}, {E: 52_100, N: 795_000}, {E: 52_100, N: 795_100}}}, 30)
			return err
		}, HazardsChanged | done},
		"UseTrack": {func(a acted) error {
			_, err := importInto(a.Session, Imported{Name: "walk.gpx", Tracks: []plan.Track{{Points: a.latLons(100, 100, 300, 100)}}})
			must(a.t, err)
			must(a.t, a.SaveAs("/plans/isle.legplan"))
			a.quiet()
			return a.UseTrack("track-1", ShapeAs{Line: plan.PathLine}, false)
		}, LinesChanged | SelectionChanged | done},
		"RemovePoint":   {func(a acted) error { return a.RemovePoint(a.crag, 1) }, HazardsChanged | done},
		"SetHazardKind": {func(a acted) error { return a.SetHazardKind(a.crag, plan.Steep) }, HazardsChanged | done},
		"SetHazardKeep": {func(a acted) error { return a.SetHazardKeep(a.crag, "80 m") }, HazardsChanged | done},
		"SetCrossing":   {func(a acted) error { return a.SetCrossing(a.pool, plan.Ford) }, HazardsChanged | done},
		"SetHavenKind":  {func(a acted) error { return a.SetHavenKind(a.hut, plan.LockedShelter) }, HavensChanged | done},
		"SetHavenOut":   {func(a acted) error { return a.SetHavenOut(a.hut, "45 min") }, HavensChanged | done},
		"SetLineKind":   {func(a acted) error { return a.SetLineKind(a.wall, plan.FenceLine) }, LinesChanged | done},
		"SetCatching":   {func(a acted) error { return a.SetCatching(a.wall, true) }, LinesChanged | done},
		"SetInCloud":    {func(a acted) error { return a.SetInCloud(a.mark, true) }, MarksChanged | done},
		"AddMark":       {func(a acted) error { _, err := a.AddMark("Hut", a.at(100, 100)); return err }, MarksChanged | SelectionChanged | done},
		"AddSheet":      {func(a acted) error { return a.AddSheet(pic) }, SheetsChanged | SheetShown | done},
		"CancelDrag": {func(a acted) error {
			a.BeginDrag()
			must(a.t, a.MovePoint(a.mark, 0, a.end(610, 600)))
			a.quiet()
			a.CancelDrag()
			return nil
		}, MarksChanged | LegsChanged | EscapesChanged | done},
		"CorrectSlip": {func(a acted) error { return a.CorrectSlip(slips.Slip{Kind: slips.OfPoint}) }, EvidenceChanged | done},
		"EndImport": {func(a acted) error {
			_, err := importInto(a.Session, walk())
			return err
		}, MarksChanged | LegsChanged | TracksChanged | done},
		"EndDrag": {func(a acted) error {
			a.BeginDrag()
			must(a.t, a.MovePoint(a.mark, 0, a.end(610, 600)))
			must(a.t, a.MovePoint(a.mark, 0, a.end(620, 600)))
			a.quiet()
			a.EndDrag()
			return nil
		}, MarksChanged | LegsChanged | EscapesChanged | done},
		"EndJudging": {func(a acted) error {
			a.crowd()
			var now *Judging
			a.JudgeBeside(func(w *Judging) { now = w })
			must(a.t, a.NudgeControlPoint(2, at(401, 400)))
			a.EndNudge()
			a.quiet()
			now.Do()
			a.EndJudging(now)
			return nil
		}, MarksChanged | LegsChanged | SightsChanged | shapes | CalibrationChanged | EvidenceChanged},
		"EndNudge": {func(a acted) error {
			must(a.t, a.NudgeControlPoint(0, at(201, 200)))
			must(a.t, a.NudgeControlPoint(0, at(202, 200)))
			a.quiet()
			a.EndNudge()
			return nil
		}, moved},
		"KeepLeg":           {func(a acted) error { _, err := a.KeepLeg(a.end(1200, 900), a.end(1300, 900)); return err }, LegsChanged | SelectionChanged | done},
		"KeepSight":         {func(a acted) error { _, err := a.KeepSight(a.end(1200, 900), a.end(1300, 900)); return err }, SightsChanged | SelectionChanged | done},
		"LegFromTyped":      {func(a acted) error { _, err := a.LegFromTyped(a.end(600, 600), "57", GridNorth, "850 m"); return err }, LegsChanged | SelectionChanged | done},
		"MoveControlPoint":  {func(a acted) error { return a.MoveControlPoint(0, at(201, 200)) }, moved},
		"MoveLegDown":       {func(a acted) error { return a.MoveLegDown(a.leg) }, LegsChanged | done},
		"MovePoint":         {func(a acted) error { return a.MovePoint(a.leg, int(plan.ToEnd), a.end(910, 700)) }, LegsChanged | done},
		"MoveLegUp":         {func(a acted) error { return a.MoveLegUp(a.later) }, LegsChanged | done},
		"NewPlan":           {func(a acted) error { a.NewPlan(); return nil }, Everything},
		"NudgeControlPoint": {func(a acted) error { return a.NudgeControlPoint(0, at(201, 200)) }, moved},
		"Open":              {func(a acted) error { return a.Open("/plans/isle.legplan") }, Everything},
		"OpenSheet":         {func(a acted) error { return a.OpenSheet(pic) }, SheetsChanged | SheetShown | MarksChanged | LegsChanged | SightsChanged | shapes | done},
		"Recover":           {func(a acted) error { return a.Recover(plan.New(plan.Date{})) }, Everything},
		"RecoverAs":         {func(a acted) error { return a.RecoverAs("/p", Stamp{}, plan.New(plan.Date{})) }, Everything},
		"Redo": {func(a acted) error {
			must(a.t, a.SetTitle("Round"))
			a.Undo()
			a.quiet()
			a.Redo()
			return nil
		}, TitleChanged | done},
		"Redraw": {func(a acted) error {
			return a.Redraw(Picture{Width: 4000, Height: 4000, DPI: 508})
		}, moved | EvidenceChanged},
		"Relink":             {func(a acted) error { return a.Relink(Picture{Path: "/moved/isle.png", Width: 2000, Height: 2000}) }, SheetsChanged | done},
		"Remove":             {func(a acted) error { return a.Remove(a.sight) }, SightsChanged | SelectionChanged | done},
		"RemoveControlPoint": {func(a acted) error { return a.RemoveControlPoint(0) }, CalibrationChanged | done},
		"RemoveEvidence":     {func(a acted) error { return a.RemoveEvidence(0) }, EvidenceChanged | done},
		"RemoveFoundLines": {func(a acted) error {
			must(a.t, a.keepLines([]calib.Evidence{{Source: calib.FromOwnGrid, At: at(300, 300), SquareM: 1000, Ref: geodesy.Grid{E: 51000, N: 799000}}}))
			must(a.t, a.SaveAs("/plans/isle.legplan"))
			a.quiet()
			return a.RemoveFoundLines()
		}, EvidenceChanged | done},
		"EndSave": {func(a acted) error {
			w, err := a.BeginSave("/plans/third.legplan")
			must(a.t, err)
			must(a.t, w.Write())
			a.EndSave(w)
			return nil
		}, FileChanged},
		"RemoveSheet":         {func(a acted) error { sheet, _ := a.Sheet(); return a.RemoveSheet(sheet.ID) }, SheetsChanged | SheetShown | MarksChanged | LegsChanged | SightsChanged | shapes | done},
		"Rename":              {func(a acted) error { return a.Rename(a.mark, "Big cairn") }, MarksChanged | done},
		"ReverseLeg":          {func(a acted) error { return a.ReverseLeg(a.leg) }, LegsChanged | done},
		"Save":                {func(a acted) error { must(a.t, a.SetTitle("Round")); a.quiet(); return a.Save() }, FileChanged},
		"SaveAs":              {func(a acted) error { return a.SaveAs("/plans/other.legplan") }, FileChanged},
		"Select":              {func(a acted) error { a.Select(a.mark); return nil }, SelectionChanged},
		"SetControlReference": {func(a acted) error { _, err := a.SetControlReference(0, "51010 799000"); return err }, moved},
		"SetDate":             {func(a acted) error { return a.SetDate("2027-05-01") }, DateChanged | done},
		"SetGrid": {func(a acted) error {
			must(a.t, a.TakeGeorefPoints(points, 2, code, calib.Scan, "")) // points without a text are read again on no grid
			must(a.t, a.SaveAs("/plans/isle.legplan"))
			a.quiet()
			return a.SetGrid(geodesy.EPSG(2157))
		}, moved},
		"SetHidden": {func(a acted) error {
			a.importOne()
			return a.SetHidden("track-1", true)
		}, TracksChanged | done},
		"RemoveImport": {func(a acted) error {
			a.importOne()
			return a.RemoveImport("walk.gpx")
		}, MarksChanged | LegsChanged | TracksChanged | done},
		"NameEnd":          {func(a acted) error { return a.NameEnd(a.later, plan.ToEnd, "Col") }, MarksChanged | LegsChanged | done},
		"SetLegField":      {func(a acted) error { return a.SetLegField(a.leg, FieldNote, "boggy") }, NotesChanged | done},
		"SetMarkNote":      {func(a acted) error { return a.SetMarkNote(a.mark, "two stones") }, MarksChanged | done},
		"SetMarkReference": {func(a acted) error { return a.SetMarkReference(a.mark, "51000 799000") }, MarksChanged | LegsChanged | EscapesChanged | done},
		"SetMedium":        {func(a acted) error { return a.SetMedium(calib.Photograph) }, CalibrationChanged | done},
		"SetContour":       {func(a acted) error { return a.SetContour(10) }, TerrainChanged | EvidenceChanged | done},
		"OpenTerrain":      {func(a acted) error { return a.OpenTerrain(plan.Terrain{Path: "/maps/b.hgt", SHA256: noSum}) }, TerrainChanged | done},
		"RemoveTerrain":    {func(a acted) error { return a.RemoveTerrain() }, TerrainChanged | done},
		"SetGround":        {func(a acted) error { a.SetGround(a.Plan().Terrain, nil); return nil }, TerrainChanged},
		"SetParty":         {func(a acted) error { p := a.Plan().Party; p.SpeedKmh = 5; return a.SetParty(p) }, PartyChanged | done},
		"SetLegGround":     {func(a acted) error { return a.SetLegGround(a.leg, pace.Rough) }, LegsChanged | done},
		"SetStart":         {func(a acted) error { return a.SetStart("9:30") }, TimingChanged | done},
		"SetTiming":        {func(a acted) error { t := a.Plan().Timing; t.Langmuir = true; return a.SetTiming(t) }, TimingChanged | done},
		"SetZone":          {func(a acted) error { return a.SetZone("Oslo") }, TimingChanged | done},
		"SetTitle":         {func(a acted) error { return a.SetTitle("Round") }, TitleChanged | done},
		"ShowSheet": {func(a acted) error {
			first, _ := a.Sheet()
			must(a.t, a.AddSheet(pic))
			a.quiet()
			return a.ShowSheet(first.ID)
		}, SheetShown},
		"PutBack": {func(a acted) error {
			was := a.Aside()
			a.NewPlan()
			a.quiet()
			a.PutBack(was)
			return nil
		}, Everything},
		"Take": {func(a acted) error {
			o, err := a.Read("/plans/isle.legplan")
			must(a.t, err)
			a.Take(o)
			return nil
		}, Everything},
		"TakeIntersections": {func(a acted) error {
			points[0].Source = calib.FoundPoint
			return a.TakeIntersections(points[:1], 5, false)
		}, CalibrationChanged | done},
		"TakeGeoref":       {func(a acted) error { return a.TakeGeoref(matrix, 2, code, "vague-bearing") }, moved | EvidenceChanged},
		"TakeGeorefPoints": {func(a acted) error { return a.TakeGeorefPoints(points, 2, code, calib.Scan, "") }, CalibrationChanged | done},
		"Settle": {func(a acted) error {
			a.crowd()
			must(a.t, a.NudgeControlPoint(0, at(201, 200)))
			a.quiet()
			a.Settle()
			return nil
		}, moved &^ FileChanged},
		"Undo": {func(a acted) error {
			must(a.t, a.SetTitle("Round"))
			a.quiet()
			a.Undo()
			return nil
		}, TitleChanged | done},
		"Use": {func(a acted) error { return a.Use(plan.New(plan.Date{})) }, Everything},
	}
}

// questions are the methods that ask or prepare and tell nobody anything.
func questions() []string {
	return []string{
		"Aside", "BeginDrag", "BeginImport", "BeginSave", "Calibration", "CheckEvidence", "CheckReference", "Close", "CompareWithLines", "CorrectedReference", "Dirty",
		"EndAt", "Escapes", "JudgeBeside", "Judged", "LettersNote", "Live", "LiveEnds", "OnChange", "ParseEnd", "ParsePosition", "Path", "PicturePath", "Plan",
		"GoesOff", "Ground", "PositionAt", "PositionsOf", "Read", "Reader", "RedoName", "ReferenceOf", "Rows", "SavedAt", "Saves", "Selection", "Sheet", "Snap", "Stamp", "StartIsPast", "SteepNew",
		"TypedEnd", "UndoName", "Verdict", "Walk",
	}
}

// quiet forgets the notifications sent while an act was prepared.
func (a acted) quiet() { a.watchers[0](Change{Step: "forget"}) }

// One act is one notification, and it names exactly the parts that changed. Every
// method of a session is such an act or stands among the questions.
func TestOneActOneNotification(t *testing.T) {
	t.Parallel()
	acts, known := intentions(), map[string]bool{}
	for _, name := range questions() {
		known[name] = true
	}
	for m := range reflect.TypeFor[*Session]().Methods() {
		if _, ok := acts[m.Name]; ok == known[m.Name] {
			t.Errorf("%s must stand either among the intentions or among the questions", m.Name)
		}
	}
	for name, c := range acts {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			a := ready(t)
			var told []Change
			a.OnChange(func(c Change) {
				if told = append(told, c); c.Step == "forget" {
					told = nil
				}
			})
			must(t, c.act(a))
			if len(told) != 1 {
				t.Fatalf("told %d times: %v", len(told), told)
			}
			if got := told[0].What; got != c.want {
				t.Errorf("told %b, want %b: %b too much, %b missing", got, c.want, got&^c.want, c.want&^got)
			}
		})
	}
}

// An act that changes nothing tells nothing.
func TestNothingChangedNothingTold(t *testing.T) {
	t.Parallel()
	a := ready(t)
	told := 0
	a.OnChange(func(Change) { told++ })
	must(t, a.SetTitle(a.Plan().Title))
	must(t, a.SetDate(a.Plan().Date.String()))
	must(t, a.SetLegField(a.leg, FieldNote, ""))
	a.Select(a.Selection().ID)
	sheet, _ := a.Sheet()
	must(t, a.ShowSheet(sheet.ID))
	a.BeginDrag()
	a.CancelDrag()
	if told != 0 {
		t.Errorf("told %d times that nothing changed", told)
	}
}

// Moves notify as such while they go on, and once more at their end, with the act
// that follows nudges if that comes first.
func TestMovesAreToldOnceMoreAtTheirEnd(t *testing.T) {
	t.Parallel()
	a := ready(t)
	var told []Change
	a.OnChange(func(c Change) { told = append(told, c) })
	a.BeginDrag()
	must(t, a.MovePoint(a.mark, 0, a.end(610, 600)))
	must(t, a.MovePoint(a.mark, 0, a.end(620, 600)))
	a.EndDrag()
	must(t, a.NudgeControlPoint(0, at(201, 200)))
	must(t, a.SetTitle("Round"))
	a.EndNudge()
	moving := []bool{true, true, false, true, false}
	if len(told) != len(moving) {
		t.Fatalf("told %d times, want %d: %+v", len(told), len(moving), told)
	}
	for i, c := range told {
		if c.Moving != moving[i] {
			t.Errorf("change %d: moving %v, want %v", i, c.Moving, moving[i])
		}
	}
	if last := told[4].What; !last.Has(TitleChanged) || !last.Has(CalibrationChanged) {
		t.Errorf("after a nudge the next act told %b, want the calibration with it", last)
	}
}
