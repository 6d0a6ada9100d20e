package opening_test

import (
	"path/filepath"
	"slices"
	"testing"

	"legwright/app/ui/opening"
)

// names are the names of files.
func names(paths []string) []string {
	var out []string
	for _, p := range paths {
		out = append(out, filepath.Base(p))
	}
	return out
}

// Pictures that are dropped together become sheets of one plan, one after the other.
func TestDroppedPicturesFollowEachOther(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	paths := []string{b.picture("a.png", 1), b.picture("b.png", 2), b.picture("c.png", 3)}
	if first, ok := b.desk.Drop(paths, nil); ok {
		t.Fatalf("%q is to be opened by somebody else", first)
	}
	for range paths {
		r := b.next()
		b.heard("the end", func() { r.Finish() })
	}
	b.until("the last", func() bool { _, under := b.desk.Job(); return !under })
	var got []string
	for _, s := range b.s.Plan().Sheets {
		got = append(got, s.Picture)
	}
	if !slices.Equal(got, paths) {
		t.Errorf("the sheets are %v, want %v", got, paths)
	}
	if last := b.last(); last.Reason != opening.Opened || !slices.Equal(names(last.Rest.Opened), []string{"a.png", "b.png", "c.png"}) {
		t.Errorf("told %+v, want all three opened", last)
	}
}

// Whatever ends a batch says what became of the others, and opens none of them.
func TestABatchThatEnds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		end   func(*bench)
		why   opening.Reason
		batch opening.Batch // by names
	}{
		{"the second fails", func(b *bench) {
			b.finishFirst()
			r := b.next()
			b.heard("the refusal", func() { r.Fail(errPulled) })
		}, opening.Refused, opening.Batch{Waiting: []string{"b.png", "c.png"}, Opened: []string{"a.png"}}},
		{"the second is cancelled", func(b *bench) {
			b.finishFirst()
			b.desk.Cancel()
		}, opening.Cancelled, opening.Batch{Waiting: []string{"b.png", "c.png"}, Opened: []string{"a.png"}}},
		{"the first asks", func(b *bench) {
			b.asks = true
			b.finishFirst()
		}, opening.Stopped, opening.Batch{Waiting: []string{"b.png", "c.png"}, Opened: []string{"a.png"}}},
		{"the first has pages", func(b *bench) {
			r := b.next()
			r.Header.Page, r.Header.Pages = 1, 3
			b.heard("the end", func() { r.Finish() })
			b.until("the report", func() bool { return b.told(opening.Stopped) })
		}, opening.Stopped, opening.Batch{Waiting: []string{"b.png", "c.png"}, Opened: []string{"a.png"}}},
		{"the first fails", func(b *bench) {
			r := b.next()
			b.heard("the refusal", func() { r.Fail(errPulled) })
		}, opening.Refused, opening.Batch{Waiting: []string{"a.png", "b.png", "c.png"}}},
	} {
		b := newBench(t)
		b.desk.Drop([]string{b.picture("a.png", 1), b.picture("b.png", 2), b.picture("c.png", 3)}, nil)
		c.end(b)
		i := slices.IndexFunc(b.reports, func(r opening.Report) bool { return r.Reason == c.why })
		if i < 0 {
			t.Errorf("%s: told %+v", c.name, b.reports)
			continue
		}
		rest := b.reports[i].Rest
		if !slices.Equal(names(rest.Waiting), c.batch.Waiting) || !slices.Equal(names(rest.Opened), c.batch.Opened) || !rest.Several() {
			t.Errorf("%s: rest %+v, want %+v", c.name, rest, c.batch)
		}
		if left := b.desk.EndBatch(); left.Several() {
			t.Errorf("%s: %+v is still waiting", c.name, left)
		}
	}
}

// finishFirst opens the first file of a batch.
func (b *bench) finishFirst() {
	b.t.Helper()
	r := b.next()
	b.heard("the end", func() { r.Finish() })
	b.until("its report", func() bool { return b.told(opening.Opened) })
}

// Of files that are not all pictures only the first is opened.
func TestMixedFiles(t *testing.T) {
	t.Parallel()
	b := newBench(t)
	pic := b.picture("a.png", 1)
	if first, ok := b.desk.Drop([]string{"/walk.gpx", pic}, nil); !ok || filepath.Base(first) != "walk.gpx" {
		t.Errorf("first %q, by the caller %v, want walk.gpx", first, ok)
	}
	if rest := b.desk.EndBatch(); !slices.Equal(names(rest.Left), []string{"a.png"}) {
		t.Errorf("rest %+v, want a.png left out", rest)
	}
	if _, ok := b.desk.Drop([]string{pic, "/walk.gpx"}, nil); ok {
		t.Error("a picture is to be opened by somebody else")
	}
	b.finish()
	if rest := b.last().Rest; !slices.Equal(names(rest.Left), []string{"walk.gpx"}) || !slices.Equal(names(rest.Opened), []string{"a.png"}) {
		t.Errorf("rest %+v, want a.png opened and walk.gpx left out", rest)
	}
	if _, ok := b.desk.Drop(nil, nil); ok {
		t.Error("nothing is to be opened")
	}
	b.calibrate()
	b.desk.Drop([]string{b.picture("b.png", 2), b.picture("c.png", 3)}, nil)
	b.wantQuestion(opening.WhichSheet)
	b.answer(opening.Decline)
	if r := b.last(); r.Reason != opening.NotOpened || !slices.Equal(names(r.Rest.Waiting), []string{"b.png", "c.png"}) {
		t.Errorf("told %+v, want both not opened", r)
	}
}
