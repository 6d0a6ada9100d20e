package pdf

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
)

const (
	// structureBudget is the most bytes of a document that are read and unpacked to
	// find its georeference.
	structureBudget = 64 << 20
	// maxObject is the longest object that is read, in bytes of text.
	maxObject = 1 << 20
	// maxObjects is how many objects a document may list.
	maxObjects = 1_000_000
	// maxSections is how many cross-reference sections are followed.
	maxSections = 1000
	headAndTail = 2048 // bytes at either end that are searched for marks
)

// errDictionary is the error of a dictionary that cannot be read.
var errDictionary = errors.New("the PDF's structure cannot be read")

// errProtected is the error of a document that anybody may view but not change: its
// page is drawn, but its georeference is not read.
var errProtected = fmt.Errorf("%w: the document is protected", errDictionary)

// dictionary finds the objects of a document by its cross-reference tables and
// streams (ISO 32000-2, 7.5). It reads only the objects it is asked for, and only
// those streams that contain objects.
type dictionary struct {
	r       *io.SectionReader
	ended   func() error // the cause of an ended context
	left    int64        // of structureBudget
	base    int64        // where the document begins in the file
	entries map[int64]entry
	trailer dictObject
	packed  map[int64]*packedObjects
	fault   error // the first object that could not be read
}

// entry is the location of an object: an offset in the file, or a stream.
type entry struct {
	at     int64
	stream int64 // the number of the stream, 0 for none
	free   bool
}

// readDictionary reads the cross-reference sections.
func readDictionary(ctx context.Context, r *io.SectionReader) (*dictionary, error) {
	d := &dictionary{
		r: r, left: structureBudget, entries: map[int64]entry{}, packed: map[int64]*packedObjects{},
		ended: func() error {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			return nil
		},
	}
	head, err := d.bytes(0, headAndTail)
	if err != nil {
		return nil, err
	}
	d.base = int64(max(0, bytes.Index(head, []byte("%PDF-"))))
	from := max(0, r.Size()-headAndTail)
	tail, err := d.bytes(from, headAndTail)
	if err != nil {
		return nil, err
	}
	i := bytes.LastIndex(tail, []byte("startxref"))
	if i < 0 {
		return nil, fmt.Errorf("%w: it does not say where its table of objects is", errDictionary)
	}
	p := parser{data: tail, at: i + len("startxref"), whole: true}
	at, err := p.object()
	first, ok := at.(int64)
	if err != nil || !ok {
		return nil, fmt.Errorf("%w: it does not say where its table of objects is", errDictionary)
	}
	if err := d.sections(first); err != nil {
		return nil, err
	}
	if d.trailer["Encrypt"] != nil {
		return nil, errProtected
	}
	return d, nil
}

// bytes reads up to n bytes of the file and counts them against the budget.
func (d *dictionary) bytes(at, n int64) ([]byte, error) {
	if at < 0 || at > d.r.Size() {
		return nil, fmt.Errorf("%w: it points beyond its end", errDictionary)
	}
	n = min(n, d.r.Size()-at)
	if err := d.spend(n); err != nil {
		return nil, err
	}
	buf := make([]byte, n)
	if _, err := d.r.ReadAt(buf, at); err != nil && err != io.EOF {
		return nil, err
	}
	return buf, nil
}

func (d *dictionary) spend(n int64) error {
	if d.left -= n; d.left < 0 {
		return fmt.Errorf("%w: its structure takes more than %d MB to read", errDictionary, structureBudget>>20)
	}
	return d.ended()
}

// sections reads the newest cross-reference section and those before it.
func (d *dictionary) sections(at int64) error {
	done := map[int64]bool{}
	todo := []int64{at}
	for len(todo) > 0 && len(done) < maxSections {
		at, todo = todo[0], todo[1:]
		if done[at] {
			continue
		}
		done[at] = true
		trailer, err := d.section(d.base + at)
		if err != nil {
			return err
		}
		if d.trailer == nil {
			d.trailer = trailer
		}
		for _, key := range []nameObject{"XRefStm", "Prev"} {
			if next, ok := trailer[key].(int64); ok {
				todo = append(todo, next)
			}
		}
	}
	return nil
}

// section reads the section at an offset of the file and returns its trailer.
func (d *dictionary) section(at int64) (dictObject, error) {
	mark, err := d.bytes(at, 64)
	if err != nil {
		return nil, err
	}
	p := parser{data: mark, whole: true}
	p.space()
	if word := p.word(); word != "xref" {
		return d.streamSection(at)
	}
	return d.tableSection(at + int64(p.at))
}

// textAt parses text at an offset of the file, and reads more of the file as the
// parser needs it. It returns where the text ends.
func (d *dictionary) textAt(at int64, read func(*parser) (object, error)) (object, int64, error) {
	for n := int64(512); ; n *= 4 {
		text, err := d.bytes(at, min(n, maxObject))
		if err != nil {
			return nil, 0, err
		}
		p := parser{data: text, whole: at+int64(len(text)) >= d.r.Size()}
		o, err := read(&p)
		if err != errShort {
			return o, at + int64(p.at), err
		}
		if n >= maxObject {
			return nil, 0, fmt.Errorf("%w: an object is longer than %d kB", errDictionary, maxObject>>10)
		}
	}
}

func parsed(p *parser) (object, error) { return p.object() }

// stored reads the object at an offset of the file. It returns its number, the
// object, and the offset of its data if it is a stream, otherwise 0.
func (d *dictionary) stored(at int64) (n reference, o object, data int64, err error) {
	_, _, err = d.textAt(at, func(p *parser) (object, error) {
		var head [2]int64
		for i := range head {
			v, err := p.object()
			if err != nil {
				return nil, err
			}
			head[i], _ = v.(int64)
		}
		n = reference{head[0], head[1]}
		p.space()
		if w := p.word(); w != "obj" && !p.short {
			return nil, fmt.Errorf("%w: an object is not where its table says", errDictionary)
		}
		if o, err = p.object(); err != nil {
			return nil, err
		}
		p.space()
		data = 0
		if p.word() == "stream" {
			for p.peek(0) == '\r' || p.peek(0) == '\n' {
				if p.at++; p.data[p.at-1] == '\n' {
					break
				}
			}
			data = at + int64(p.at)
		}
		if p.short {
			return nil, errShort
		}
		return nil, nil
	})
	return n, o, data, err
}
