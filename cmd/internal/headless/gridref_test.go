package headless

import (
	"strings"
	"testing"
)

// TestGridref: TG 51409 13177 is the worked example of the Ordnance Survey's
// guide (Annexe C); the squares are those of its figure of the National Grid.
func TestGridref(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, grid, figures, row, want string
	}{
		{"OS guide", "EPSG:27700", "10", "651409.903 313177.270", "TG5140913177"},
		{"OS guide, six", "EPSG:27700", "6", "651409.903 313177.270", "TG514131"},
		{"OS guide, two", "EPSG:27700", "2", "651409.903 313177.270", "TG51"},
		{"truncated, not rounded", "EPSG:27700", "6", "216699.9 771299.9", "NN166712"},
		{"snapped to 1 mm", "EPSG:27700", "10", "216699.9996 771299.9996", "NN1670071300"},
		{"leading zeros", "EPSG:27700", "8", "400010 100020", "SU00010002"},
		{"Irish", "EPSG:29903", "6", "315904 234671", "O159346"},
	} {
		got := run(t, c.row+"\n", "gridref", "--grid", c.grid, "--figures", c.figures)
		if got.code != 0 || got.out != c.want+"\n" || got.err != "" {
			t.Errorf("%s: got %d %q %q, want %s", c.name, got.code, got.out, got.err, c.want)
		}
	}
}

func TestGridrefInverse(t *testing.T) {
	t.Parallel()
	in := "TG 51409 13177\nTG513131\n  tg 51 13  \nO 159 346\n\n651409.5 313177\n30U XB 12 34\n512 131\n"
	want := []string{
		"651409 313177 1",
		"651300 313100 100",
		"651000 313000 1000",
		"error: Irish",
		"error: reference \"\": there is no reference",
		"651409.5 313177 0",
		"error: the sheet is on the British National Grid",
		"error: the letters are missing",
	}
	got := run(t, in, "gridref", "--grid", "EPSG:27700", "--inverse")
	wantCode(t, got, 1)
	rows := got.rows()
	if len(rows) != len(want) {
		t.Fatalf("got %d rows %q, want %d", len(rows), got.out, len(want))
	}
	for i, w := range want {
		text := strings.Join(rows[i], " ")
		if says, isError := strings.CutPrefix(w, "error: "); isError {
			if !strings.HasPrefix(text, "error: ") || !strings.Contains(text, says) {
				t.Errorf("row %d: got %q, want error: … %q", i+1, text, says)
			}
		} else if text != w {
			t.Errorf("row %d: got %q, want %q", i+1, text, w)
		}
	}
}

// TestGridrefRoundTrip: the corner of a written reference is the coordinate
// truncated to the square.
func TestGridrefRoundTrip(t *testing.T) {
	t.Parallel()
	const rows = "212345 745678\n400000 1000000\n99999 0\n"
	for _, grid := range []string{"EPSG:27700", "EPSG:32630"} {
		written := run(t, rows, "gridref", "--grid", grid)
		if grid == "EPSG:32630" {
			written = run(t, "512345 5745678\n400000 6000000\n699999 1\n", "gridref", "--grid", grid)
		}
		wantCode(t, written, 0)
		read := run(t, written.out, "gridref", "--grid", grid, "--inverse")
		wantCode(t, read, 0)
		again := run(t, strings.ReplaceAll(read.out, "\t1\n", "\n"), "gridref", "--grid", grid)
		if again.out != written.out {
			t.Errorf("%s: got %q, want %q", grid, again.out, written.out)
		}
	}
}

func TestGridrefBadRows(t *testing.T) {
	t.Parallel()
	for _, row := range []string{"", "1", "NaN 2", "1e300 1e300", "-5000000 -5000000", "9e9 9e9", "a b"} {
		got := run(t, row+"\n", "gridref", "--grid", "EPSG:27700")
		wantCode(t, got, 1)
		if !strings.HasPrefix(got.out, "error: ") || strings.Count(got.out, "\n") != 1 {
			t.Errorf("%q: got %q, want one error row", row, got.out)
		}
	}
	got := run(t, "SN 12\nN 123 456\n", "gridref", "--grid", "EPSG:2193", "--inverse")
	wantCode(t, got, 1)
	if n := strings.Count(got.out, "error: "); n != 2 {
		t.Errorf("letters on the New Zealand grid: got %q, want two errors", got.out)
	}
}
