package main

import (
	"bytes"
	"strings"
	"testing"
)

func TestTallyReadsEvents(t *testing.T) {
	t.Parallel()
	in := strings.NewReader(`{"Action":"output","Package":"p","Test":"A","Output":"=== RUN A\n"}
{"Action":"pass","Package":"p","Test":"A"}
{"Action":"output","Package":"p","Test":"B","Output":"    b_test.go:7: wants cs2cs\n"}
{"Action":"skip","Package":"p","Test":"B"}
{"Action":"output","Package":"p","Test":"C","Output":"    c_test.go:9: got 1, want 2\n"}
{"Action":"fail","Package":"p","Test":"C"}
{"Action":"output","Package":"p","Output":"FAIL\tp\t0.1s\n"}
{"Action":"fail","Package":"p"}
`)
	var sum tally
	var out bytes.Buffer
	sum.read(in, &out)
	sum.print(&out)
	for _, want := range []string{"got 1, want 2", "FAIL\tp", "skipped 1×: wants cs2cs", "1 passed, 1 failed, 1 skipped"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("output lacks %q:\n%s", want, out.String())
		}
	}
}

func TestFuzzTargets(t *testing.T) {
	t.Parallel()
	got := fuzzTargets("FuzzA\nFuzzB\nok  \tlegwright/x\t0.1s\nok  \tlegwright/y\t0.1s\nFuzzC\nok  \tlegwright/z\t0.1s\n")
	want := []fuzzTarget{{"legwright/x", "FuzzA"}, {"legwright/x", "FuzzB"}, {"legwright/z", "FuzzC"}}
	if len(got) != len(want) {
		t.Fatalf("got %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("target %d = %v, want %v", i, got[i], want[i])
		}
	}
}

func TestUnknownTaskIsWrongUsage(t *testing.T) {
	t.Parallel()
	var out, errw bytes.Buffer
	if got := start(t.Context(), []string{"nonsense"}, &out, &errw); got != 2 {
		t.Errorf("exit = %d, want 2", got)
	}
	if !strings.Contains(errw.String(), "usage") {
		t.Errorf("no usage was printed: %q", errw.String())
	}
}

func TestChooseFigures(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		names []string
		want  int // groups, −1 for an error
	}{
		{nil, len(measures()) - 4}, // the four long ones only when named
		{[]string{"monkey_wrong"}, 1},
		{[]string{"frame_pan_p99"}, 1},
		{[]string{"field_100k_rows", "project_million_rows"}, 2},
		{[]string{"--help"}, -1},
		{[]string{"no_such_figure"}, -1},
	} {
		got, err := choose(c.names)
		if (err != nil) != (c.want < 0) || (err == nil && len(got) != c.want) {
			t.Errorf("%q: %d groups, %v, want %d", c.names, len(got), err, c.want)
		}
	}
}

// TestPatch: each place must stand in the source exactly once.
func TestPatch(t *testing.T) {
	t.Parallel()
	got, err := patch("a b c", []edit{{"b", "B"}, {"B c", "d"}})
	if err != nil || got != "a d" {
		t.Errorf("got %q, %v, want %q", got, err, "a d")
	}
	for _, source := range []string{"a c", "b b"} {
		if got, err := patch(source, []edit{{"b", "B"}}); err == nil {
			t.Errorf("%q became %q, want an error", source, got)
		}
	}
}

// TestSlope fits a line that rises by 3 MB a minute after a first rise that
// does not count.
func TestSlope(t *testing.T) {
	t.Parallel()
	var list []windowSample
	for s := range 300 {
		mb := 200 + 3*float64(s)/60
		if s < 120 {
			mb = float64(s)
		}
		list = append(list, windowSample{AtS: float64(s), NowMB: mb})
	}
	if got := slope(list, 120); got < 2.999 || got > 3.001 {
		t.Errorf("slope %.4f MB/min, want 3", got)
	}
}
