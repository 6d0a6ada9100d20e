package main

import (
	"bytes"
	"errors"
	"fmt"
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

func TestTalliesAddUp(t *testing.T) {
	t.Parallel()
	sum := tally{passed: 3, failed: 1, skipped: 1, skips: map[string]int{"wants cs2cs": 1}}
	var none tally
	none.add(&sum)
	none.add(&tally{passed: 2, skipped: 3, skips: map[string]int{"wants cs2cs": 2, "wants Xvfb": 1}})
	var out bytes.Buffer
	none.print(&out)
	for _, want := range []string{"skipped 3×: wants cs2cs", "skipped 1×: wants Xvfb", "5 passed, 1 failed, 4 skipped"} {
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

// What runs beside other steps says nothing before it is waited for, and then how it ended.
func TestBeside(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	r, want := &runner{out: &out, errw: &out}, errors.New("two holes")
	began, end := make(chan bool), make(chan bool)
	wait := r.beside(func(r *runner) error {
		began <- true
		<-end
		fmt.Fprint(r.out, "one hole")
		return want
	})
	<-began
	if out.Len() > 0 {
		t.Errorf("said %q before it was waited for", out.String())
	}
	end <- true
	if err := wait(); !errors.Is(err, want) || out.String() != "one hole" {
		t.Errorf("got %v and %q, want %v and what was said", err, out.String(), want)
	}
}
