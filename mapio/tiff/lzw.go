package tiff

import (
	"bufio"
	"io"
)

const (
	lzwClear = 256
	lzwEnd   = 257
	lzwFirst = 258
	lzwCodes = 4096
)

// lzw unpacks the LZW of TIFF 6.0, section 13: codes of 9 to 12 bits, the
// most significant bit first, widened one code early. Files from before that
// specification have the least significant bit first and widen late; they
// are known by how their first code, a clear, looks.
type lzw struct {
	src   *bufio.Reader
	old   bool
	bits  uint32
	nbits uint
	width uint
	next  int // the code that is defined next
	prev  int // the code before, or −1 after a clear
	err   error

	prefix [lzwCodes]uint16
	suffix [lzwCodes]byte
	length [lzwCodes]uint16
	buf    []byte // unpacked, not yet given away
	from   int
}

// reset begins with new data, keeping the memory.
func (l *lzw) reset(src *bufio.Reader) {
	l.src, l.bits, l.nbits, l.err = src, 0, 0, nil
	l.buf, l.from = l.buf[:0], 0
	head, _ := src.Peek(2)
	l.old = len(head) == 2 && head[0] == 0 && head[1]&1 == 1
	for i := range lzwClear {
		l.suffix[i], l.length[i] = byte(i), 1
	}
	l.clear()
}

func (l *lzw) clear() { l.width, l.next, l.prev = 9, lzwFirst, -1 }

func (l *lzw) Read(out []byte) (int, error) {
	if l.from == len(l.buf) {
		if l.err != nil {
			return 0, l.err
		}
		l.fill()
		if len(l.buf) == 0 {
			return 0, l.err
		}
	}
	n := copy(out, l.buf[l.from:])
	l.from += n
	return n, nil
}

// lzwBuffer is what is unpacked at a time, before one last string.
const lzwBuffer = 16 << 10

// fill unpacks until the buffer is full or the data ends.
func (l *lzw) fill() {
	if cap(l.buf) == 0 {
		l.buf = make([]byte, 0, lzwBuffer+lzwCodes)
	}
	l.buf, l.from = l.buf[:0], 0
	for len(l.buf) < lzwBuffer {
		code, err := l.code()
		switch {
		case err != nil:
			l.err = err
			return
		case code == lzwClear:
			l.clear()
		case code == lzwEnd:
			l.err = io.EOF
			return
		case code > l.next || code == l.next && l.prev < 0 || l.prev < 0 && code > 255:
			l.err = corrupt("its LZW data holds a code that was never defined")
			return
		default:
			l.put(code)
		}
	}
}

// put unpacks one code and defines the next: the string before and the first
// byte of this one.
func (l *lzw) put(code int) {
	at := len(l.buf)
	last := code
	if code == l.next { // not defined yet: the string before and its own first byte
		last = l.prev
	}
	n := int(l.length[last])
	l.buf = l.buf[:at+n]
	for c, i := last, at+n-1; i >= at; i-- {
		l.buf[i] = l.suffix[c]
		c = int(l.prefix[c])
	}
	first := l.buf[at]
	if code == l.next {
		l.buf = append(l.buf, first)
	}
	if l.prev >= 0 && l.next < lzwCodes {
		l.prefix[l.next], l.suffix[l.next] = uint16(l.prev), first
		l.length[l.next] = l.length[l.prev] + 1
		l.next++
		l.widen()
	}
	l.prev = code
}

// widen sets the width of the next code.
func (l *lzw) widen() {
	early := 1
	if l.old {
		early = 0
	}
	if l.next+early >= 1<<l.width && l.width < 12 {
		l.width++
	}
}

func (l *lzw) code() (int, error) {
	for l.nbits < l.width {
		b, err := l.src.ReadByte()
		if err != nil {
			return 0, err
		}
		if l.old {
			l.bits |= uint32(b) << l.nbits
		} else {
			l.bits = l.bits<<8 | uint32(b)
		}
		l.nbits += 8
	}
	l.nbits -= l.width
	mask := uint32(1)<<l.width - 1
	if l.old {
		code := l.bits & mask
		l.bits >>= l.width
		return int(code), nil
	}
	return int(l.bits >> l.nbits & mask), nil
}
