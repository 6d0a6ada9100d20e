package headless

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

// echo answers a row with itself in brackets and refuses rows that hold "bad".
func echo() rowFunc {
	return func(dst, line []byte) ([]byte, error) {
		dst = append(append(append(dst, '['), line...), ']')
		if bytes.Contains(line, []byte("bad")) {
			return dst, errors.New("a bad\trow\n")
		}
		return dst, nil
	}
}

func batch(in io.Reader) (string, error) {
	var out bytes.Buffer
	err := runBatch(streams{in: in, out: &out, err: io.Discard}, echo)
	return out.String(), err
}

func TestBatchAnswersEveryLine(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("x", lineBytes)
	refused := "error: " + errLongRow.Error() + "\n"
	for _, c := range []struct {
		name, in, want string
		failed         bool
	}{
		{"nothing", "", "", false},
		{"one row", "a\n", "[a]\n", false},
		{"no line end", "a\nb", "[a]\n[b]\n", false},
		{"empty lines", "\n\na\n", "[]\n[]\n[a]\n", false},
		{"error in its place", "a\nbad\nc\n", "[a]\nerror: a bad row \n[c]\n", true},
		{"error at the end", "a\nbad", "[a]\nerror: a bad row \n", true},
		{"longest row", long + "\nb\n", "[" + long + "]\n[b]\n", false},
		{"row too long", long + "x\nb\n", refused + "[b]\n", true},
		{"row far too long", "a\n" + strings.Repeat(long, 8) + "\nb\n", "[a]\n" + refused + "[b]\n", true},
		{"too long at the end", "a\n" + strings.Repeat(long, 8), "[a]\n" + refused, true},
	} {
		for how, in := range map[string]io.Reader{
			"at once":      strings.NewReader(c.in),
			"data and EOF": iotest.DataErrReader(strings.NewReader(c.in)),
			"halves":       iotest.HalfReader(strings.NewReader(c.in)),
		} {
			got, err := batch(in)
			if got != c.want {
				t.Errorf("%s (%s): got %s, want %s", c.name, how, quote([]byte(got)), quote([]byte(c.want)))
			}
			if errors.Is(err, errQuiet) != c.failed || err != nil && !c.failed {
				t.Errorf("%s (%s): got error %v, want failed %v", c.name, how, err, c.failed)
			}
		}
	}
}

// TestBatchKeepsOrder sends many blocks through all workers.
func TestBatchKeepsOrder(t *testing.T) {
	t.Parallel()
	const rows = 200000
	var in, want strings.Builder
	for i := range rows {
		fmt.Fprintf(&in, "row %d\n", i)
		fmt.Fprintf(&want, "[row %d]\n", i)
	}
	got, err := batch(strings.NewReader(in.String()))
	if err != nil || got != want.String() {
		t.Errorf("%d rows came back changed or out of order (error %v)", rows, err)
	}
	const few = "1\n22\n\n333"
	got, err = batch(iotest.OneByteReader(strings.NewReader(few)))
	if err != nil || got != "[1]\n[22]\n[]\n[333]\n" {
		t.Errorf("byte by byte: got %q, %v", got, err)
	}
}

// TestBatchAnswersAtOnce: a row that comes alone is answered before the next
// one is sent.
func TestBatchAnswersAtOnce(t *testing.T) {
	t.Parallel()
	inR, inW := io.Pipe()
	outR, outW := io.Pipe()
	done := make(chan error, 1)
	go func() { done <- runBatch(streams{in: inR, out: outW, err: io.Discard}, echo) }()
	for _, row := range []string{"a", "b"} {
		if _, err := fmt.Fprintln(inW, row); err != nil {
			t.Fatal(err)
		}
		got := make([]byte, len(row)+3)
		if _, err := io.ReadFull(outR, got); err != nil || string(got) != "["+row+"]\n" {
			t.Fatalf("got %q, %v, want [%s]", got, err, row)
		}
	}
	inW.Close()
	if err := <-done; err != nil {
		t.Error(err)
	}
}

// brokenWriter fails after a number of writes, as a closed pipe or a full disk.
type brokenWriter struct{ left int }

var errDiskFull = errors.New("no space left")

func (w *brokenWriter) Write(p []byte) (int, error) {
	if w.left--; w.left < 0 {
		return 0, errDiskFull
	}
	return len(p), nil
}

func TestBatchReportsBrokenStreams(t *testing.T) {
	t.Parallel()
	rows := strings.Repeat("1 2\n", 1<<20)
	err := runBatch(streams{in: strings.NewReader(rows), out: &brokenWriter{left: 2}, err: io.Discard}, echo)
	if !errors.Is(err, errDiskFull) {
		t.Errorf("full disk: got %v, want %v", err, errDiskFull)
	}
	var out bytes.Buffer
	in := io.MultiReader(strings.NewReader("a\n"), iotest.ErrReader(errDiskFull))
	err = runBatch(streams{in: in, out: &out, err: io.Discard}, echo)
	if !errors.Is(err, errDiskFull) || out.String() != "[a]\n" {
		t.Errorf("unreadable input: got %v and %q, want %v and the row before it", err, out.String(), errDiskFull)
	}
}

func TestNumbers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		in   string
		want float64
		ok   bool
	}{
		{"1", 1, true},
		{"-0.5", -0.5, true},
		{"+12.25", 12.25, true},
		{"1e3", 1000, true},
		{".5", 0.5, true},
		{"5.", 5, true},
		{"1E-400", 0, true},
		{"", 0, false},
		{"NaN", 0, false},
		{"Inf", 0, false},
		{"-Infinity", 0, false},
		{"0x10", 0, false},
		{"1_000", 0, false},
		{"1e999", 0, false},
		{"1,5", 0, false},
		{"--1", 0, false},
		{"1e", 0, false},
		{strings.Repeat("9", 400), 0, false},
	} {
		got, err := parseNumber([]byte(c.in))
		if (err == nil) != c.ok || got != c.want {
			t.Errorf("%q: got %v, %v, want %v, ok %v", c.in, got, err, c.want, c.ok)
		}
	}
}

func TestAppendNumber(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		in   float64
		want string
	}{
		{0, "0"},
		{-1e-16, "0"},
		{9.9e-16, "0"},
		{1e-12, "0.000000000001"},
		{0.1, "0.1"},
		{-2.5, "-2.5"},
		{651409.9029999999, "651409.9029999999"},
		{1e21, "1000000000000000000000"},
	} {
		if got := string(appendNumber(nil, c.in)); got != c.want {
			t.Errorf("%g: got %s, want %s", c.in, got, c.want)
		}
	}
}

func FuzzNumbers(f *testing.F) {
	for _, seed := range []string{"1 2", " 1\t2 3 4 5", "NaN 1", "1e5 -0", "\r\n", "1\x002", "٣ ٤"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		var v [4]float64
		count, err := numbers(v[:], 2, line, "a b [c [d]]")
		if err != nil {
			return
		}
		if count < 2 || count > 4 || count != len(bytes.Fields(line)) {
			t.Errorf("%q: got %d values", line, count)
		}
		for _, x := range v {
			if x-x != 0 {
				t.Errorf("%q: got %v, want finite values", line, v)
			}
		}
	})
}
