package ui

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"legwright/app/session"
)

// importInto imports into the bench's plan at once.
func importInto(b *Bench, in session.Imported) (session.ImportReport, error) {
	w, err := b.s.BeginImport(in)
	if err != nil {
		return session.ImportReport{}, err
	}
	if err := w.Run(context.Background(), nil); err != nil {
		return session.ImportReport{}, err
	}
	return b.s.EndImport(w)
}

// manyPlaces writes a GPX file of n places about the calibrated test sheet.
func manyPlaces(t *testing.T, n int) string {
	t.Helper()
	var text strings.Builder
	text.WriteString(`<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">`)
	for i := range n {
		fmt.Fprintf(&text, `<wpt lat="%.5f" lon="-5.0"><name>Place %d</name></wpt>`, 56.4+float64(i)*1e-6, i)
	}
	text.WriteString("</gpx>")
	path := filepath.Join(t.TempDir(), "many.gpx")
	if err := os.WriteFile(path, []byte(text.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// A file of many places is worked out beside the window, which only takes the
// result in.
func TestImportLeavesTheWindowAlone(t *testing.T) {
	b := calibrated(t)
	b.goTo(postRoute)
	b.importGPX(manyPlaces(t, 2_000))
	if got := len(b.s.Plan().Marks); got != 0 {
		t.Errorf("the window waited for %d marks", got)
	}
	until(t, "the marks", func() bool { return strings.HasPrefix(b.foot.Message(), "From many.gpx") || b.foot.Failed() })
	if got := len(b.s.Plan().Marks); got != 2_000 {
		t.Errorf("got %d marks (%s), want 2000", got, b.foot.Message())
	}
}

// An import whose plan is changed meanwhile is worked out again beside the
// window, and both are there in the end.
func TestImportFollowsThePlan(t *testing.T) {
	b := calibrated(t)
	b.importGPX(manyPlaces(t, 2_000))
	(<-waiting)() // the file is read, and its places are worked out from here on
	if err := b.s.SetTitle("meanwhile"); err != nil {
		t.Fatal(err)
	}
	until(t, "the marks", func() bool { return strings.HasPrefix(b.foot.Message(), "From many.gpx") || b.foot.Failed() })
	if p := b.s.Plan(); len(p.Marks) != 2_000 || p.Title != "meanwhile" {
		t.Errorf("got %d marks and the title %q (%s), want 2000 and what was done meanwhile", len(p.Marks), p.Title, b.foot.Message())
	}
}

// An import that was given up, or whose plan was left, brings nothing in.
func TestImportEndsWithItsPlan(t *testing.T) {
	for _, c := range []struct {
		name string
		end  func(b *Bench)
	}{
		{"given up", (*Bench).giveUpImport},
		{"another plan", (*Bench).newPlan},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := calibrated(t)
			b.importGPX(manyPlaces(t, 5_000))
			c.end(b)
			for quiet := time.After(time.Second); ; {
				select {
				case f := <-waiting:
					f()
					continue
				case <-quiet:
				}
				break
			}
			if got := len(b.s.Plan().Marks); got != 0 || strings.HasPrefix(b.foot.Message(), "From") {
				t.Errorf("got %d marks and %q, want none", got, b.foot.Message())
			}
		})
	}
}
