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

// longest lets the bench work until a condition holds, and returns the longest
// stretch for which its window was busy.
func longest(t *testing.T, limit time.Duration, holds func() bool) (most time.Duration) {
	t.Helper()
	for end := time.After(limit); !holds(); {
		select {
		case f := <-waiting:
			start := time.Now()
			f()
			most = max(most, time.Since(start))
		case <-end:
			t.Fatalf("not done within %v", limit)
		}
	}
	return most
}

// A file of many places is worked out away from the window; what the window
// does itself is bounded generously, for slow machines.
func TestImportLeavesTheWindowAlone(t *testing.T) {
	for _, c := range []struct {
		places int
		most   time.Duration
	}{{2_000, time.Second}, {20_000, 2 * time.Second}} {
		t.Run(fmt.Sprint(c.places), func(t *testing.T) {
			b := calibrated(t)
			b.goTo(postRoute)
			b.importGPX(manyPlaces(t, c.places))
			start := time.Now()
			most := longest(t, time.Minute, func() bool { return strings.HasPrefix(b.footNow.Message, "From many.gpx") || b.footNow.Fault })
			t.Logf("%d places: %v in all, the window busy for %v at most", c.places, time.Since(start), most)
			if got := len(b.s.Plan().Marks); got != c.places || most > c.most {
				t.Errorf("got %d marks (%s), the window busy for %v; want %d and %v at most", got, b.footNow.Message, most, c.places, c.most)
			}
		})
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
