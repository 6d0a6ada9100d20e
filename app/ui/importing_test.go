package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

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
	until(t, "the marks", func() bool { return strings.HasPrefix(b.footNow.Message, "From many.gpx") || b.footNow.Fault })
	if got := len(b.s.Plan().Marks); got != 2_000 {
		t.Errorf("got %d marks (%s), want 2000", got, b.footNow.Message)
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
			if got := len(b.s.Plan().Marks); got != 0 || strings.HasPrefix(b.footNow.Message, "From") {
				t.Errorf("got %d marks and %q, want none", got, b.footNow.Message)
			}
		})
	}
}
