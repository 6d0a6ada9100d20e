package dem

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"image"
	"io"
	"math"
	"strconv"
	"strings"

	"legwright/app/geodesy"
	"legwright/app/terrain"
)

// startsASCII reports whether a file begins as an Esri ASCII grid does.
func startsASCII(head []byte) bool {
	word := bytes.ToLower(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")), " \t\r\n"))
	return bytes.HasPrefix(word, []byte("ncols")) || bytes.HasPrefix(word, []byte("nrows"))
}

// header is the header of an ASCII grid: words with their numbers, in any order and case.
type header map[string]float64

// longestWord bounds the words of a file.
const longestWord = 64

// words reads a text word by word.
type words struct {
	in   *bufio.Reader
	word []byte
}

// next returns the next word, valid until the next call. Its error is io.EOF at the end.
func (w *words) next() ([]byte, error) {
	w.word = w.word[:0]
	for {
		b, err := w.in.ReadByte()
		switch {
		case err != nil && (err != io.EOF || len(w.word) == 0):
			return nil, err
		case err != nil:
			return w.word, nil
		case b != ' ' && b != '\n' && b != '\r' && b != '\t':
			if w.word = append(w.word, b); len(w.word) > longestWord {
				return nil, damaged("a word in it is longer than %d letters", longestWord)
			}
		case len(w.word) > 0:
			return w.word, nil
		}
	}
}

// number reads a word that must be a finite number.
func (w *words) number() (float64, error) {
	word, err := w.next()
	if err != nil {
		return 0, cut(err)
	}
	return parse(word)
}

func parse(word []byte) (float64, error) {
	v, err := strconv.ParseFloat(string(word), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, damaged("%q is where a number should be", word)
	}
	return v, nil
}

func openASCII(ctx context.Context, r io.ReaderAt, size int64, _ string, want Want) (*terrain.Tile, error) {
	in := bufio.NewReaderSize(io.NewSectionReader(r, 0, size), 1<<18)
	if mark, _ := in.Peek(3); string(mark) == "\xef\xbb\xbf" {
		_, _ = in.Discard(3)
	}
	w := &words{in: in}
	h, first, err := readHeader(w)
	if err != nil {
		return nil, err
	}
	if want.Grid == "" {
		return nil, ErrNoGrid
	}
	system, err := geodesy.Lookup(want.Grid)
	if err != nil {
		return nil, err
	}
	p, err := h.posts(system, size)
	if err != nil {
		return nil, err
	}
	win, err := p.window(want.Area)
	if err != nil {
		return nil, err
	}
	return p.readASCII(ctx, w, first, h.none(), win, want)
}

// readHeader reads words and numbers up to the first height, which it returns too.
func readHeader(w *words) (header, float64, error) {
	const most = 16
	h := header{}
	for range most {
		word, err := w.next()
		if err != nil {
			return nil, 0, cut(err)
		}
		if c := word[0]; c == '-' || c == '+' || c == '.' || c >= '0' && c <= '9' {
			first, err := parse(word)
			return h, first, err
		}
		key := strings.ToLower(string(word))
		if _, twice := h[key]; twice {
			return nil, 0, damaged("its header has %s twice", key)
		}
		if h[key], err = w.number(); err != nil {
			return nil, 0, err
		}
	}
	return nil, 0, damaged("its header has more than %d lines", most)
}

// none is the value of a post without height: the format's own −9999 unless the header
// has another.
func (h header) none() float64 {
	if v, ok := h["nodata_value"]; ok {
		return v
	}
	return -9999
}

// posts checks the header and gives the lattice. A post takes at least two bytes of the
// file, its digit and a blank.
func (h header) posts(s *geodesy.System, size int64) (posts, error) {
	const most = 1 << 20
	cols, rows, cell := h["ncols"], h["nrows"], h["cellsize"]
	switch {
	case cols != math.Trunc(cols) || rows != math.Trunc(rows) || cols < 2 || rows < 2 || cols > most || rows > most:
		return posts{}, damaged("its size is given as %g × %g heights", cols, rows)
	case 2*cols*rows-1 > float64(size):
		return posts{}, damaged("%g × %g heights do not fit in %d bytes", cols, rows, size)
	case !(cell > 0):
		return posts{}, notTerrain("its header gives no spacing of heights (cellsize)")
	}
	west, okE := h.corner("x", cell)
	south, okN := h.corner("y", cell)
	if !okE || !okN {
		return posts{}, notTerrain("its header does not say where its corner lies (xllcorner and yllcorner, or xllcenter and yllcenter)")
	}
	step := s.FromUnits(cell, cell)
	return posts{s, s.FromUnits(west, south+cell*(rows-1)), step.E, step.N, int(cols), int(rows)}, nil
}

// corner is the coordinate of the south-west post along an axis: posts are the centres of
// cells.
func (h header) corner(axis string, cell float64) (float64, bool) {
	if v, ok := h[axis+"llcenter"]; ok {
		return v, true
	}
	v, ok := h[axis+"llcorner"]
	return v + cell/2, ok
}

// readASCII reads a window of the heights, of which the first has been read.
func (p posts) readASCII(ctx context.Context, w *words, first, none float64, win image.Rectangle, want Want) (*terrain.Tile, error) {
	t, h := p.tile(win, want.unitM(), false), first
	var err error
	for y := range win.Max.Y {
		if err := context.Cause(ctx); err != nil {
			return nil, err
		}
		for x := range p.cols {
			if x+y > 0 {
				if h, err = w.number(); err != nil {
					return nil, fmt.Errorf("in row %d of %d: %w", y+1, p.rows, err)
				}
			}
			if !image.Pt(x, y).In(win) {
				continue
			}
			at := &t.Heights[(y-win.Min.Y)*t.Cols+x-win.Min.X]
			if *at = float32(h); h == none {
				*at = void
			}
		}
		want.tell(y+1, win.Max.Y)
	}
	return t, w.end(ctx, p.cols, p.rows-win.Max.Y)
}

// end reads so many more rows and then the end of the file: a file of another number of
// heights than its header says has every row after the first in the wrong position.
func (w *words) end(ctx context.Context, cols, rows int) error {
	for range rows {
		if err := context.Cause(ctx); err != nil {
			return err
		}
		for range cols {
			if _, err := w.next(); err != nil {
				return cut(err)
			}
		}
	}
	switch _, err := w.next(); {
	case err == io.EOF:
		return nil
	case err != nil:
		return err
	}
	return damaged("it has more heights than its header says")
}
