package ui_test

import (
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/session"
	"legwright/app/ui/benchtest"
)

// What goes out as GPX and comes in again is marked as it was, and goes out so
// once more.
func TestCautionsGoThroughGPX(t *testing.T) {
	b := benchtest.Placed(t, 120)
	b.Sheets.CompareWithLines()
	b.Route.KeepLine(100, 100, 250, 200)
	b.Route.AddMark("Quay", "NL 215 425")
	want := strings.Join(caution.Shorts([]caution.Caution{caution.Of(caution.EvidenceDisagree), caution.Of(caution.Unchecked)}), ", ")
	coarse := caution.Of(caution.CoarseShift).Short()
	for turn := range 2 {
		path := filepath.Join(t.TempDir(), "walk.gpx")
		b.Files.Export(path)
		b = benchtest.Open(t)
		b.Files.Import(path)
		if _, err := b.Session().LegFromTyped(b.Plan().Legs[0].To, "057", session.GridNorth, "850 m"); err != nil {
			t.Fatal(err)
		}
		if _, err := b.Session().LegFromTyped(b.Plan().Legs[1].To, "157", session.GridNorth, "850 m"); err != nil {
			t.Fatal(err)
		}
		for i, row := range b.Session().Rows() {
			text := ""
			for _, f := range row.Reading.Cautions {
				if f.Code == caution.ImportedStop {
					text += f.Text()
				}
			}
			if !strings.Contains(text, want) || strings.Contains(text, coarse) {
				t.Errorf("turn %d, leg %d: cautions %+v", turn+1, i+1, row.Reading.Cautions)
			}
		}
		quay, ok := b.Plan().MarkByName("Quay")
		if !ok || quay.Position.Cautions != "" {
			t.Errorf("turn %d: a mark that nothing speaks against has cautions: %+v", turn+1, quay)
		}
		saved := filepath.Join(t.TempDir(), "walk.legplan")
		if err := b.Session().SaveAs(saved); err != nil {
			t.Fatal(err)
		}
		b.Files.Open(saved)
		if got := b.Session().Rows()[0].Reading; !got.Has(caution.ImportedStop) {
			t.Errorf("turn %d: saved and opened the cautions are %+v", turn+1, got.Cautions)
		}
	}
}
