package headless

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// The rows of sun_events.tsv (PyEphem and Astronomy Engine, see the README there) through
// the command: below latitude 65° within a minute of both.
func TestLightRows(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "vectors", "sun_events.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	counted := 0
	for i, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		c := strings.Split(line, "\t")
		if i == 0 || c[0] != "below65" {
			continue
		}
		counted++
		got := run(t, c[2]+" "+c[3]+"\n", "light", "--date", c[1])
		wantCode(t, got, 0)
		row := got.rows()[0]
		for k, want := range c[4:] {
			if at, err := time.Parse(time.RFC3339, want); err == nil {
				if mine, err := time.Parse(time.RFC3339, row[k%3]); err != nil || mine.Sub(at).Abs() > time.Minute || !strings.HasSuffix(row[k%3], "Z") {
					t.Errorf("%s: value %d is %s, want %s", line, k%3, row[k%3], want)
				}
			} else if k%3 != 2 || row[2] != "twilight-all-night" {
				t.Errorf("%s: value %d is %s, want %s", line, k%3, row[k%3], want)
			}
		}
	}
	if counted != 60 {
		t.Errorf("%d rows, want 60", counted)
	}
}

// What does not occur is a word: 69.6° N in summer and winter, 78.2° N in winter, 60° N in
// summer (PyEphem says the same, rows "polar" of the table).
func TestLightWithoutAnEvent(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ date, row, want string }{
		{"2026-06-21", "69.6 18.9", "sun-stays-up sun-stays-up twilight-all-night"},
		{"2026-12-21", "69.6 18.9", "sun-stays-down sun-stays-down T"},
		{"2026-12-21", "78.2 15.6", "sun-stays-down sun-stays-down dark-all-day"},
		{"2026-06-21", "61.5 24", "T T twilight-all-night"},
	} {
		got := run(t, c.row+"\n", "light", "--date", c.date)
		wantCode(t, got, 0)
		row := got.rows()[0]
		for i, text := range row {
			if _, err := time.Parse(time.RFC3339, text); err == nil {
				row[i] = "T"
			}
		}
		if strings.Join(row, " ") != c.want {
			t.Errorf("%s %s: %v, want %s", c.date, c.row, row, c.want)
		}
		if strings.Count(got.err, "Flat horizon") != 1 {
			t.Errorf("the flat horizon is not said once: %q", got.err)
		}
	}
}

// The day is that of the zone: Kiritimati (Line Islands, UTC+14) is a day ahead of the
// sun at its longitude, −157°.
func TestLightZone(t *testing.T) {
	t.Parallel()
	const row = "1.9 -157.4\n"
	zone := run(t, row, "light", "--date", "2026-11-25", "--zone", "Pacific/Kiritimati")
	before := run(t, row, "light", "--date", "2026-11-24")
	wantCode(t, zone, 0)
	if !slices.Equal(zone.rows()[0], before.rows()[0]) || !strings.HasPrefix(zone.rows()[0][1], "2026-11-25T04") {
		t.Errorf("got %v, want %v", zone.rows(), before.rows())
	}
	for _, name := range []string{"", "Local", "Nowhere/Town", "+01:00"} {
		wantCode(t, run(t, row, "light", "--date", "2026-11-25", "--zone", name), 2)
	}
	wantCode(t, run(t, row, "light"), 2)
}

func TestLightBadRows(t *testing.T) {
	t.Parallel()
	for _, row := range []string{"", "57", "57 -6 3", "91 0", "57 361", "NaN 0", "57 x"} {
		got := run(t, row+"\n57 -6\n", "light", "--date", "2026-11-25")
		wantCode(t, got, 1)
		lines := strings.Split(got.out, "\n")
		if !strings.HasPrefix(lines[0], "error: ") || len(strings.Fields(lines[1])) != 3 {
			t.Errorf("%q: got %q", row, got.out)
		}
	}
}
