package headless

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestFieldOfficialRows sends the published test values of WMM2025 and WMM2020
// (testdata/vectors/magnetic_field.tsv) through the command, columns in the
// order named in its help.
func TestFieldOfficialRows(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", "vectors", "magnetic_field.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	var in strings.Builder
	var want [][]string
	for i, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		if c := strings.Split(line, "\t"); i > 0 {
			fmt.Fprintln(&in, c[3], c[4], c[1], c[2])
			want = append(want, c)
		}
	}
	got := run(t, in.String(), "field")
	wantCode(t, got, 0)
	rows := got.rows()
	if len(rows) != len(want) || len(want) != 212 {
		t.Fatalf("got %d rows of %d, want 212", len(rows), len(want))
	}
	for i, c := range want {
		if len(rows[i]) != 8 {
			t.Fatalf("row %d: got %d values, want 8", i, len(rows[i]))
		}
		for k := range 7 {
			tolerance := 0.05 + 1e-9
			if k < 2 {
				tolerance = 0.005 + 1e-9
			} else if c[0] == "wmm2025-test" {
				tolerance = 0.001
			}
			wantNear(t, fmt.Sprintf("%s row %d value %d", c[0], i, k), float(t, rows[i][k]), float(t, c[5+k]), tolerance)
		}
	}
	if strings.Count(got.err, "too weak here for a compass") != 1 || strings.Count(got.err, "is weak here") != 1 {
		t.Errorf("cautions: got %q, want each zone once", got.err)
	}
}

// TestFieldDefaults: a row without year and height takes those of the flags.
// 2026-11-25 is 2026 + 328/365.
func TestFieldDefaults(t *testing.T) {
	t.Parallel()
	const year = "2026.8986301369864"
	full := run(t, "57 -6 "+year+" 1.5\n57 -6 "+year+" 0\n", "field")
	short := run(t, "57 -6\n57 -6 "+year+"\n57 -6 "+year+" 0\n", "field", "--date", "2026-11-25", "--height-km", "1.5")
	wantCode(t, full, 0)
	wantCode(t, short, 0)
	a, b := full.rows(), short.rows()
	for k := range 8 {
		high, low := float(t, a[0][k]), float(t, a[1][k])
		wantNear(t, "date and height by flag", float(t, b[0][k]), high, 1e-7)
		wantNear(t, "height by flag", float(t, b[1][k]), high, 1e-7)
		wantNear(t, "own year and height", float(t, b[2][k]), low, 1e-7)
	}
	if full.err != "" {
		t.Errorf("cautions: got %q, want none in Britain", full.err)
	}
	// σ by the published error model √(0.26² + (5417/H)²).
	h := float(t, a[1][2])
	wantNear(t, "sigma² of declination", float(t, a[1][7])*float(t, a[1][7]), 0.26*0.26+5417*5417/h/h, 1e-12)
}

func TestFieldBadRows(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, row, says string }{
		{"too high", "57 -4 2026 900", "the height is not from -1 to 850 km"},
		{"empty", "", "give lat lon [decimal_year [height_km]]"},
		{"five values", "57 -6 2026 0 1", "5 values"},
		{"no year", "57 -6", "the row has no year"},
		{"year before", "57 -6 2019.9", "from 1 January 2020 to 1 January 2030"},
		{"year after", "57 -6 2030.1", "from 1 January 2020 to 1 January 2030"},
		{"NaN year", "57 -6 NaN", "not a plain number"},
		{"latitude", "91 -6 2026", "latitude"},
		{"longitude", "57 999 2026", "longitude"},
		{"height", "57 -6 2026 1000", "height"},
		{"Inf height", "57 -6 2026 Inf", "not a plain number"},
	} {
		got := run(t, c.row+"\n57 -6 2026\n", "field")
		wantCode(t, got, 1)
		lines := strings.Split(got.out, "\n")
		if !strings.HasPrefix(lines[0], "error: ") || !strings.Contains(lines[0], c.says) || len(strings.Fields(lines[1])) != 8 {
			t.Errorf("%s: got %q, want error: … %q and the next row answered", c.name, got.out, c.says)
		}
	}
	got := run(t, "57 -6\n", "field", "--date", "2031-01-01")
	wantCode(t, got, 1)
	if !strings.HasPrefix(got.out, "error: ") {
		t.Errorf("date outside the model: got %q, want an error", got.out)
	}
}

// TestFieldManyYears: workers that change years give what fresh ones give.
func TestFieldManyYears(t *testing.T) {
	t.Parallel()
	var in strings.Builder
	years := []string{"2021", "2024.9999", "2025", "2029.5"}
	for i := range 2000 {
		fmt.Fprintln(&in, "12 34", years[(i*i/3)%4])
	}
	got := run(t, in.String(), "field").rows()
	alone := map[string]string{}
	for i := range 2000 {
		year := years[(i*i/3)%4]
		if alone[year] == "" {
			alone[year] = strings.Join(run(t, "12 34 "+year+"\n", "field").rows()[0], " ")
		}
		if strings.Join(got[i], " ") != alone[year] {
			t.Fatalf("row %d, year %s: got %v, alone %v", i, year, got[i], alone[year])
		}
	}
}
