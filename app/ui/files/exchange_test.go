package files_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/mapio/gpx"
)

// gpxOf writes a GPX file with some content.
func gpxOf(t *testing.T, name, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	write(t, path, `<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">`+content+"</gpx>")
	return path
}

// manyPlaces are n waypoints about the calibrated sheet.
func manyPlaces(n int) string {
	var text strings.Builder
	for i := range n {
		fmt.Fprintf(&text, `<wpt lat="%.5f" lon="-5.0"><name>Place %d</name></wpt>`, 56.4+float64(i)*1e-6, i)
	}
	return text.String()
}

// exported reads an exported file.
func exported(t *testing.T, path string) *gpx.Document {
	t.Helper()
	f, err := os.Open(path)
	do(t, err)
	defer f.Close()
	d, err := gpx.Read(f)
	do(t, err)
	return d
}

// imported reports whether an import has come to its end.
func (b *bench) imported() bool { return !b.Exchange.Importing() }

// An export asks for its file, and writes marks and each unbroken route of the plan.
func TestExport(t *testing.T) {
	b := calibrated(t)
	b.Exchange.Export()
	if b.dialogs.Waiting() {
		t.Fatal("an export of nothing was asked about")
	}
	quay, hut, top, ford := b.mark("Quay", 50, 50), b.mark("Hut", 150, 50), b.mark("Top", 250, 50), b.mark("Ford", 350, 50)
	b.leg(quay, hut)
	b.leg(hut, top)
	b.leg(ford, quay)
	path := filepath.Join(t.TempDir(), "round.gpx")
	b.Exchange.Export()
	b.typeInto(path)
	b.until("the file", func() bool { _, err := os.Stat(path); return err == nil })
	d := exported(t, path)
	if len(d.Marks) != 4 || len(d.Routes) != 2 || len(d.Routes[0].Points) != 3 || len(d.Tracks) != 0 {
		t.Errorf("exported %d marks, %d routes, %d tracks", len(d.Marks), len(d.Routes), len(d.Tracks))
	}
	b.until("the word", func() bool { return strings.Contains(b.foot.Message(), "legs 1–2, 3") })
}

// Where nothing can be written, what was there stays.
func TestExportFailsAndLosesNothing(t *testing.T) {
	b := calibrated(t)
	b.mark("Quay", 50, 50)
	path := filepath.Join(t.TempDir(), "walk.gpx")
	write(t, path, "old")
	do(t, os.Chmod(path, 0o400))
	b.Exchange.Export()
	b.typeInto(path)
	b.asked("the question about the read-only file")
	b.dialogs.Escape()
	if read(t, path) != "old" {
		t.Fatal("the read-only file was overwritten")
	}
	b.Exchange.Export()
	b.typeInto(path)
	b.asked("the question about the read-only file")
	b.answer("Overwrite")
	b.until("the export", func() bool { return read(t, path) != "old" })
}

// A file of many positions is worked out beside the window, which only takes in what came
// of it.
func TestImportLeavesTheWindowAlone(t *testing.T) {
	b := calibrated(t)
	path := gpxOf(t, "many.gpx", manyPlaces(2_000))
	b.Opener.Open(path)
	if got := len(b.s.Plan().Marks); got != 0 {
		t.Errorf("the window waited for %d marks", got)
	}
	b.until("the marks", b.imported)
	if got := len(b.s.Plan().Marks); got != 2_000 || b.foot.Failed() {
		t.Errorf("%d marks, %s, want 2000", got, b.foot.Message())
	}
}

// An import whose plan is changed meanwhile is worked out again, and both are there in
// the end.
func TestImportFollowsThePlan(t *testing.T) {
	b := calibrated(t)
	b.Exchange.Import(gpxOf(t, "many.gpx", manyPlaces(2_000)))
	for range 3 { // the file is read, and its positions are being worked out
		(<-b.queue)()
	}
	do(t, b.s.SetTitle("meanwhile"))
	b.until("the marks", b.imported)
	if p := b.s.Plan(); len(p.Marks) != 2_000 || p.Title != "meanwhile" {
		t.Errorf("%d marks and the title %q, want 2000 and what was done meanwhile", len(p.Marks), p.Title)
	}
}

// An import that is cancelled, or whose plan is left, adds nothing.
func TestImportEndsWithItsPlan(t *testing.T) {
	for name, end := range map[string]func(*bench){
		"cancelled":    func(b *bench) { b.Exchange.Cancel() },
		"another plan": func(b *bench) { b.s.NewPlan() },
	} {
		t.Run(name, func(t *testing.T) {
			b := calibrated(t)
			b.Exchange.Import(gpxOf(t, "many.gpx", manyPlaces(5_000)))
			end(b)
			for quiet := time.After(time.Second); ; {
				select {
				case f := <-b.queue:
					f()
					continue
				case <-quiet:
				}
				break
			}
			if got := len(b.s.Plan().Marks); got != 0 {
				t.Errorf("%d marks, want none", got)
			}
		})
	}
}

// A file that cannot be read, or holds nothing, changes nothing and says why.
func TestImportsThatFail(t *testing.T) {
	for name, text := range map[string]string{"cut off": "<gpx><wpt lat='999'", "empty": `<gpx version="1.1"></gpx>`} {
		b := calibrated(t)
		path := filepath.Join(t.TempDir(), "bad.gpx")
		write(t, path, text)
		before := b.s.Plan()
		b.Exchange.Import(path)
		b.until("the refusal", b.imported)
		if !b.foot.Failed() || b.s.Plan() != before {
			t.Errorf("%s: refused %v, plan changed %v", name, b.foot.Failed(), b.s.Plan() != before)
		}
	}
}

// Names that end in a number, a letter or a numeral come back as the marks that they are, in
// plain letters too.
func TestOwnNumbersDoubleNothing(t *testing.T) {
	b := calibrated(t)
	names := []string{
		"Long Ridge cairn 1", "Long Ridge cairn 12", "Long Ridge crag 12", "cairn 5", "Cairn 5 col", "Ridge top IV", "Ridge top I", "Quarry wall B",
		"Skelvig gate 7", "Skelvig gateway 7", "Überhöhe Steinmännchen 3", "Überhöhe Steinmännchen 30", "Ψηλορείτης κορυφή 4", "Дальний гурий 8", "山小屋の東の大きなケルン 6",
	}
	for i, name := range names {
		b.mark(name, 50+10*float64(i), 50)
	}
	before := b.s.Plan()
	for limit := 10; limit <= 30; limit++ {
		for _, plain := range []bool{false, true} {
			out, err := leg.Export(before, nil)
			do(t, err)
			var text bytes.Buffer
			do(t, gpx.Write(&text, gpx.FromLegs(out, nil, before.Date), gpx.Options{NameLimit: limit, Plain: plain}))
			path := filepath.Join(t.TempDir(), "own.gpx")
			write(t, path, text.String())
			b.Exchange.Import(path)
			b.until("the import", b.imported)
			if p := b.s.Plan(); p != before || !strings.Contains(b.foot.Message(), fmt.Sprintf("; %d already in the plan", len(names))) {
				t.Errorf("names of %d letters, plain %v: %d marks; %s", limit, plain, len(p.Marks), b.foot.Message())
			}
		}
	}
}

// The plan's own export adds nothing when it is imported again, however short its names
// were cut and whether or not the route went out as a track too.
func TestOwnGPXDoublesNothing(t *testing.T) {
	b := calibrated(t)
	quay, quarry := b.mark("Skelvig quay of stone", 50, 50), b.mark("Skelvig quay of wood, the northern one", 150, 50)
	far := plan.AtPosition(quay.Position)
	far.Position.Grid.N -= 700
	b.leg(quay, quarry)
	b.leg(quarry, far)
	before := b.s.Plan()
	for _, limit := range []int{10, 20, 30} {
		for _, track := range []bool{false, true} {
			out, err := leg.Export(before, nil)
			do(t, err)
			var text bytes.Buffer
			do(t, gpx.Write(&text, gpx.FromLegs(out, nil, before.Date), gpx.Options{NameLimit: limit, Track: track}))
			path := filepath.Join(t.TempDir(), "own.gpx")
			write(t, path, text.String())
			b.Exchange.Import(path)
			b.until("the import", b.imported)
			if p := b.s.Plan(); p != before || !strings.Contains(b.foot.Message(), "; 4 already in the plan") {
				t.Errorf("names of %d letters, track %v: %d marks, %d legs, %d tracks; %s", limit, track, len(p.Marks), len(p.Legs), len(p.Tracks), b.foot.Message())
			}
		}
	}
}

// A track that does not touch the sheet is named: nothing of it would be seen.
func TestTracksOffTheSheetAreNamed(t *testing.T) {
	b := calibrated(t)
	at, _, err := b.s.Reader().System().ToWGS84(b.mark("Cairn", 200, 150).Position.Grid)
	do(t, err)
	track := func(name string, lat, lon float64) string {
		return fmt.Sprintf(`<trk><name>%s</name><trkseg><trkpt lat="%v" lon="%v"/></trkseg></trk>`, name, lat, lon)
	}
	b.Exchange.Import(gpxOf(t, "two.gpx", track("Seen", at.Lat.Deg(), at.Lon.Deg())+track("Lost", 10, 10)))
	b.until("the tracks", b.imported)
	if says := b.foot.Message(); len(b.s.Plan().Tracks) != 2 || !strings.Contains(says, "Lost") || strings.Contains(says, "Seen") {
		t.Errorf("%d tracks; the foot line says %q, want Lost named and Seen not", len(b.s.Plan().Tracks), says)
	}
}

// Escapes go out beside the route, drafts by that name, and come back as nothing: as a part
// of the route they would be walked.
func TestEscapesStayOutOfAnImport(t *testing.T) {
	b := calibrated(t)
	quay, quarry := b.mark("Quay", 50, 50), b.mark("Quarry", 150, 50)
	b.leg(quay, quarry)
	_, err := b.s.AddEscape(quay, quarry, "")
	do(t, err)
	path := filepath.Join(t.TempDir(), "walk.gpx")
	b.Exchange.Export()
	b.typeInto(path)
	b.until("the word", func() bool { return strings.Contains(b.foot.Message(), "1 DRAFT escape") })
	if d := exported(t, path); len(d.Routes) != 2 || !d.Routes[1].Escape || !strings.HasPrefix(d.Routes[1].Name, "DRAFT E01-1") {
		t.Errorf("exported %+v", d.Routes)
	}
	before := b.s.Plan()
	b.Exchange.Import(path)
	b.until("the import", b.imported)
	if b.s.Plan() != before || !strings.Contains(b.foot.Message(), "1 escape left out") {
		t.Errorf("imported: %d legs, %s", len(b.s.Plan().Legs), b.foot.Message())
	}
}

// What one bench exports as GeoJSON, another imports as the same kinds with the same names,
// without a question, and the same bench not at all. Escapes are left out, and said to be.
func TestOwnGeoJSONComesBackAsItWas(t *testing.T) {
	b := calibrated(t)
	quay, hut := b.mark("Quay", 50, 50), b.mark("Hut", 150, 50)
	b.leg(quay, hut)
	b.leg(hut, b.mark("Top", 250, 60))
	at := func(e, n float64) plan.Position {
		pos := quay.Position
		pos.Grid.E, pos.Grid.N = pos.Grid.E+e, pos.Grid.N+n
		return pos
	}
	_, err := b.s.AddEscape(quay, hut, "")
	do(t, err)
	p := b.s.Plan()
	around := []plan.Position{at(100, 100), at(300, 100), at(300, 400)}
	p = p.AddHazard(plan.Hazard{ID: "hazard-1", Name: "Black Face", Kind: plan.Crag, Closed: true, Points: around, KeepM: 200, Note: "loose"})
	p = p.AddHazard(plan.Hazard{ID: "hazard-2", Kind: plan.Water, Points: around[:2], KeepM: 5, Crosses: plan.Ford})
	p = p.AddHaven(plan.Haven{ID: "haven-1", Name: "Bothy", Kind: plan.OpenShelter, Points: around[:1]})
	p = p.AddLine(plan.Line{ID: "line-1", Name: "March wall", Kind: plan.WallLine, Points: around})
	p = p.AddArea(plan.Area{ID: "area-1", Name: "Wood", Ground: plan.AreaGrounds()[0], Points: around})
	p = p.AddTrack(plan.Track{ID: "track-1", Name: "Sunday", Points: []geodesy.LatLon{geodesy.DegLatLon(56.4, -5), geodesy.DegLatLon(56.41, -5)}})
	do(t, b.s.Use(p))
	path := filepath.Join(t.TempDir(), "round.geojson")
	b.Exchange.Export()
	b.typeInto(path)
	b.until("the export", func() bool { return strings.Contains(b.foot.Message(), "Exported round.geojson") })

	before := b.s.Plan()
	b.Exchange.Import(path)
	b.until("the import", b.imported)
	if b.s.Plan() != before || b.dialogs.Waiting() {
		t.Errorf("the own export changed the plan or asked: %s", b.foot.Message())
	}
	other := calibrated(t)
	other.Exchange.Import(path)
	other.until("the import", other.imported)
	names := func(p *plan.Plan) (out []string) {
		for x := range p.Things {
			if x.Kind != plan.OfEscape && x.Kind != plan.OfLeg {
				out = append(out, x.Kind.Word()+" "+p.TitleOf(x.ID))
			}
		}
		return out
	}
	q := other.s.Plan()
	if got, want := names(q), names(before); !slices.Equal(got, want) {
		t.Errorf("came back as %q, want %q", got, want)
	}
	if len(q.Legs) != 2 || len(q.Escapes) != 0 || len(q.Hazards) != 2 || q.Hazards[0].KeepM != 200 || q.Hazards[1].KeepM != 20 || q.Hazards[0].Note != "loose" {
		t.Errorf("%d legs, %d escapes, hazards %+v: want 2, none, and no distance to keep below the usual one", len(q.Legs), len(q.Escapes), q.Hazards)
	}
	if q.Hazards[1].Crosses != plan.Ford {
		t.Errorf("the water comes back as %q, want a ford", q.Hazards[1].Crosses)
	}
	if says := other.foot.Message(); !strings.Contains(says, "1 escape left out") || !strings.Contains(says, "1 crossing of water taken from the file: check the map") {
		t.Errorf("the foot line says %q", says)
	}
}

// The ledger is copied as cells with tabs between them, its stops first; without a leg the
// clipboard stays as it was.
func TestCopyLedger(t *testing.T) {
	b := calibrated(t)
	clip := fyne.CurrentApp().Clipboard()
	clip.SetContent("kept")
	b.Exchange.CopyLedger()
	if clip.Content() != "kept" || !b.foot.Failed() {
		t.Errorf("a plan without legs copied %q", clip.Content())
	}
	quay := b.mark("Quay", 50, 50)
	b.leg(quay, b.mark("=Hut 1", 150, 50))
	near := plan.AtPosition(quay.Position)
	near.Position.Grid.N += 0.4 // no bearing between two ends so close
	b.leg(quay, near)
	b.Exchange.CopyLedger()
	lines := strings.Split(strings.TrimSuffix(clip.Content(), "\n"), "\n")
	if len(lines) != 3 {
		t.Fatalf("%d lines:\n%s", len(lines), clip.Content())
	}
	for i, line := range lines {
		if cells := strings.Split(line, "\t"); len(cells) != len(strings.Split(lines[0], "\t")) || i == 1 && cells[4] != "'=Hut 1" || i == 2 && !strings.HasPrefix(cells[0], "STOP: ") {
			t.Errorf("line %d: %q", i, cells)
		}
	}
	if says := b.foot.Message(); !strings.Contains(says, "Copied the ledger: 1 of 2 legs marked STOP") {
		t.Errorf("the foot line says %q", says)
	}
}
