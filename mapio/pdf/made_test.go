package pdf

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"
)

// made is a small document made for a test, on invented ground.
type made struct {
	page    string // further entries of the page's dictionary
	content string // of the page; "" draws a red square in its lower left
	trailer string // further entries of the trailer
	catalog string // further entries of the catalogue
	objects []string
	pages   int // 0 stands for 1, negative for none
}

// bytes writes the document: catalogue 1, pages 2, content 3, page 4, then
// further objects from 5 on, with a sound cross-reference table.
func (m made) bytes() []byte {
	if m.content == "" {
		m.content = "1 0 0 rg 0 0 72 72 re f"
	}
	if !strings.Contains(m.page, "/MediaBox") {
		m.page += " /MediaBox [0 0 288 144]"
	}
	kids := strings.Repeat("4 0 R ", max(m.pages, 1))
	if m.pages < 0 {
		kids = ""
	}
	if m.pages > 1 { // a page may stand in the tree once only
		for i := 1; i < m.pages; i++ {
			m.objects = append(m.objects, "<< /Type /Page /Parent 2 0 R /Contents 3 0 R "+m.page+" >>")
		}
		kids = "4 0 R "
		for i := 1; i < m.pages; i++ {
			kids += fmt.Sprintf("%d 0 R ", 4+len(m.objects)-m.pages+1+i)
		}
	}
	objects := append([]string{
		"<< /Type /Catalog /Pages 2 0 R " + m.catalog + " >>",
		fmt.Sprintf("<< /Type /Pages /Kids [%s] /Count %d >>", kids, len(strings.Fields(kids))/3),
		fmt.Sprintf("<< /Length %d >>\nstream\n%s\nendstream", len(m.content), m.content),
		"<< /Type /Page /Parent 2 0 R /Contents 3 0 R " + m.page + " >>",
	}, m.objects...)
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n")
	at := make([]int, len(objects))
	for i, o := range objects {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	xref := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, p := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", p)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root 1 0 R %s >>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, m.trailer, xref)
	return b.Bytes()
}

// engine is one for all tests of the package, since starting it takes time.
var engine = sync.OnceValue(func() *Engine { return NewEngine(DefaultFolder()) })

func patient(t testing.TB) context.Context {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

func open(t testing.TB, data []byte) *Document {
	t.Helper()
	d, err := engine().Open(patient(t), bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(d.Close)
	return d
}
