package pdf

import (
	"bytes"
	"compress/zlib"
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
)

// nested makes a page that calls a form, which calls another, and so on.
func nested(depth, calls int) []byte {
	m := made{content: strings.Repeat("/F Do ", calls), page: "/Resources << /XObject << /F 5 0 R >> >>"}
	for i := range depth {
		content := strings.Repeat("/F Do ", calls)
		if i == depth-1 {
			content = "0 0 9 9 re f"
		}
		m.objects = append(m.objects, fmt.Sprintf(
			"<< /Type /XObject /Subtype /Form /BBox [0 0 288 144] /Resources << /XObject << /F %d 0 R >> >> /Length %d >>\nstream\n%s\nendstream",
			6+i, len(content), content))
	}
	return m.bytes()
}

// TestNestedForms: a page of a few kilobytes that calls for a petabyte is
// refused at the renderer's bound, whether it is looked at or drawn, and leaves
// nothing behind.
func TestNestedForms(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		do   func(*Document) error
	}{
		{"looking", func(d *Document) error { _, err := d.NativeDPI(patient(t), 1, Page{UserUnit: 1}); return err }},
		{"drawing", func(d *Document) error { _, err := d.Render(patient(t), 1, 288, 144, nil); return err }},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := open(t, nested(12, 20))
			if err := c.do(d); !errors.Is(err, ErrTooLarge) {
				t.Fatalf("got %v, want %v", err, ErrTooLarge)
			}
			if d.memory.plane.Bytes() != nil {
				t.Error("the renderer's memory was kept")
			}
			if _, err := d.Render(patient(t), 1, 9, 9, nil); !errors.Is(err, ErrEngine) {
				t.Errorf("drawing again: got %v, want %v", err, ErrEngine)
			}
		})
	}
}

// endless is a page that takes hours to draw and little memory: each pixel of
// it is the result of a program of 60,000 steps.
func endless() []byte {
	program := "{ " + strings.Repeat("dup mul ", 30_000) + "}"
	return made{
		content: "288 0 0 288 0 0 cm /S sh",
		page:    "/Resources << /Shading << /S 5 0 R >> >>",
		objects: []string{
			"<< /ShadingType 1 /ColorSpace /DeviceRGB /Function 6 0 R >>",
			fmt.Sprintf("<< /FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1] /Length %d >>\nstream\n%s\nendstream", len(program), program),
		},
	}.bytes()
}

// noticed tells when something is read of it, once it is armed.
type noticed struct {
	io.ReaderAt
	armed atomic.Bool
	once  sync.Once
	read  chan struct{}
}

func (n *noticed) ReadAt(p []byte, at int64) (int, error) {
	if n.armed.Load() {
		n.once.Do(func() { close(n.read) })
	}
	return n.ReaderAt.ReadAt(p, at)
}

// TestStop: a drawing that would take hours has ended when Render returns with
// the cause, and nothing goes on behind it. The collector runs beside it: a
// renderer that never comes back to Go would hold it up, and the whole program
// until the drawing ends.
func TestStop(t *testing.T) {
	t.Parallel()
	data := endless()
	in := &noticed{ReaderAt: bytes.NewReader(data), read: make(chan struct{})}
	d, err := engine().Open(patient(t), in, int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	ctx, cancel := context.WithCancelCause(patient(t))
	why := errors.New("enough")
	go func() {
		<-in.read
		for range 10 {
			runtime.GC()
		}
		cancel(why)
	}()
	in.armed.Store(true)
	_, err = d.Render(ctx, 1, 4000, 2000, nil)
	if !errors.Is(err, why) {
		t.Fatalf("got %v, want the cause", err)
	}
	if d.memory.plane.Bytes() != nil || !d.closed {
		t.Error("the renderer goes on")
	}
}

// deflated packs a stream with further entries of its dictionary.
func deflated(t *testing.T, entries string, data io.Reader) string {
	t.Helper()
	var b bytes.Buffer
	w, err := zlib.NewWriterLevel(&b, zlib.BestSpeed)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(w, data); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("<< %s /Filter /FlateDecode /Length %d >>\nstream\n%s\nendstream", entries, b.Len(), b.String())
}

// zeros is n zero bytes.
func zeros(n int64) io.Reader { return io.LimitReader(endlessZeros{}, n) }

type endlessZeros struct{}

func (endlessZeros) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}

// withTable ends a document with a cross-reference stream of these objects:
// kind, place or stream, index.
func withTable(t *testing.T, body []byte, rows [][3]int, entries string) []byte {
	t.Helper()
	var table bytes.Buffer
	for _, r := range append(rows, [3]int{1, len(body), 0}) {
		table.Write([]byte{byte(r[0]), byte(r[1] >> 24), byte(r[1] >> 16), byte(r[1] >> 8), byte(r[1]), byte(r[2])})
	}
	text := deflated(t, fmt.Sprintf("/Type /XRef /W [1 4 1] /Size %d /Root 1 0 R %s", len(rows)+1, entries), &table)
	return fmt.Appendf(bytes.Clone(body), "%d 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n", len(rows), text, len(body))
}

// TestStructureBudget: what a document says of itself is read within a bound,
// however far it unpacks and however often it points to the same.
func TestStructureBudget(t *testing.T) {
	t.Parallel()
	const tooMuch = structureBudget + 1<<20
	unpacks := func() []byte {
		packed := []byte("%PDF-1.7\n")
		at := len(packed)
		packed = fmt.Appendf(packed, "2 0 obj\n%s\nendobj\n", deflated(t, "/Type /ObjStm /N 1 /First 4", io.MultiReader(strings.NewReader("1 0 "), zeros(tooMuch))))
		return withTable(t, packed, [][3]int{{0, 0, 0}, {2, 2, 0}, {1, at, 0}}, "")
	}
	table := func() []byte {
		return fmt.Appendf([]byte("%PDF-1.7\n"), "1 0 obj\n%s\nendobj\nstartxref\n9\n%%%%EOF\n", deflated(t, "/Type /XRef /W [1 4 1] /Size 9 /Root 1 0 R", zeros(tooMuch)))
	}
	// 200,000 kids are one and the same page of a megabyte.
	same := func() []byte {
		kids := strings.Repeat("7 0 R ", 200_000)
		large := "<< /Type /Page /X (" + strings.Repeat("x", 1_000_000) + ") >>"
		m := made{pages: 2, catalog: "/Pages 5 0 R", objects: []string{}}
		m.objects = append(m.objects, "<< /Type /Pages /Count 200000 /Kids 6 0 R >>", "["+kids[:900_000]+"]", large)
		return m.bytes()
	}
	type document struct {
		name string
		make func() []byte
		page int
	}
	documents := []document{{"an object stream", unpacks, 1}, {"a table", table, 1}, {"one page many times", same, 100_000}}
	if testing.Short() {
		documents = documents[1:2] // reading starts no goroutine
	}
	for _, c := range documents {
		data := c.make()
		d, err := readDictionary(patient(t), io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data))))
		if err == nil {
			_, err = d.page(c.page)
		}
		if !errors.Is(err, errDictionary) || !strings.Contains(err.Error(), "MB to read") {
			t.Errorf("%s, %d bytes: got %v, want a refusal to read on", c.name, len(data), err)
		}
		t.Logf("%s, %d bytes: %v", c.name, len(data), err)
	}
}

// TestStructureEnds: tables and trees that lead back to themselves come to an
// end.
func TestStructureEnds(t *testing.T) {
	t.Parallel()
	loop := made{catalog: "/Pages 5 0 R", objects: []string{"<< /Type /Pages /Count 9 /Kids [5 0 R] >>"}}.bytes()
	at := bytes.LastIndex(loop, []byte("\nxref")) + 1
	again := bytes.Replace(made{}.bytes(), []byte("/Root"), fmt.Appendf(nil, "/Prev %d /Root", bytes.LastIndex(made{}.bytes(), []byte("\nxref"))+1), 1)
	deep := made{catalog: "/X " + strings.Repeat("[", 5000) + strings.Repeat("]", 5000)}.bytes()
	link := made{page: "/Rotate 5 0 R", objects: []string{"6 0 R", "5 0 R"}}.bytes()
	for _, c := range []struct {
		name string
		data []byte
		ok   bool
	}{{"a tree in itself", loop, false}, {"a table before itself", again, true}, {"lists in lists", deep, false}, {"references in a ring", link, true}} {
		if _, err := readPages(t, c.data); (err == nil) != c.ok {
			t.Errorf("%s (table at %d): got %v", c.name, at, err)
		}
	}
}

// TestInterruptible: a check is put at the head of each loop and nowhere else,
// and what is not understood is refused.
func TestInterruptible(t *testing.T) {
	t.Parallel()
	head := "\x00asm\x01\x00\x00\x00"
	// One body without local variables: loop · i32.const 3 · drop · br 0 · end · end.
	body := "\x00\x03\x40\x41\x03\x1a\x0c\x00\x0b\x0b"
	code := func(body string) string {
		return head + "\x00\x02\x01x" + "\x0a" + string(rune(len(body)+2)) + "\x01" + string(rune(len(body))) + body
	}
	got, err := interruptible([]byte(code(body)))
	if want := code(body[:3] + string(stopCheck) + body[3:]); err != nil || string(got) != want {
		t.Errorf("got % x (%v), want % x", got, err, want)
	}
	for _, bad := range []string{"", "no module", head + "\x0a\xff", code("\x00\xfe\x00\x0b"), code("\x00\x41\x80")} {
		if _, err := interruptible([]byte(bad)); !errors.Is(err, errModule) {
			t.Errorf("% x: got %v, want a refusal", bad, err)
		}
	}
}
