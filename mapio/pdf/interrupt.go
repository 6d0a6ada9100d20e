package pdf

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// stopAt is the address of the byte in the renderer's memory that stops it
// when it is not 0. The module keeps no data below 1024.
const stopAt = 16

// turnsAt is the address of the number that counts the turns of all loops.
const turnsAt = 20

// stopCheck is inserted at the head of every loop:
//
//	turns = turns + 1
//	if turns % 16384 == 0 { memory.grow 0; if stopAt != 0 { unreachable } }
//
// The runtime grows memory in Go, also by nothing. Without such a visit Go's
// collector, which stops every goroutine for a moment, would wait for the end of
// the drawing, and the whole program with it: nobody could even ask to stop.
var stopCheck = []byte{
	0x41, 0, // i32.const 0: the address, to which the constant below is added
	0x41, 0, 0x28, 2, turnsAt, // i32.load
	0x41, 1, 0x6a, // i32.const 1 · i32.add
	0x36, 2, turnsAt, // i32.store
	0x41, 0, 0x28, 2, turnsAt, // i32.load
	0x41, 0xff, 0xff, 0, 0x71, 0x45, // i32.const 16383 · i32.and · i32.eqz
	0x04, 0x40, // if
	0x41, 0, 0x40, 0, 0x1a, // i32.const 0 · memory.grow · drop
	0x41, stopAt, 0x2d, 0, 0, 0x04, 0x40, 0x00, 0x0b, // i32.const stopAt · i32.load8_u · if · unreachable · end
	0x0b, // end
}

// errModule is the error of a WebAssembly module that cannot be parsed.
var errModule = errors.New("the module of the PDF renderer is not one this program knows")

// interruptible returns a WebAssembly module with stopCheck in its loops. The
// runtime's own way of ending a call (WithCloseOnContextDone) leaves the compiled
// code at every turn of every loop, and drawing takes three times as long;
// counting adds a quarter at the most.
//
// The binary format is that of the WebAssembly Core Specification 3.0, chapter
// 5: only the bodies in the code section change, and their lengths.
func interruptible(module []byte) ([]byte, error) {
	if len(module) < 8 || string(module[:4]) != "\x00asm" {
		return nil, errModule
	}
	out := append(make([]byte, 0, len(module)+len(module)/16), module[:8]...)
	r := wasmReader{data: module, at: 8}
	for r.at < len(module) && r.err == nil {
		id, body := r.byte(), r.take(r.uleb())
		if id == codeSection && r.err == nil {
			body, r.err = checkedBodies(body)
		}
		out = appendSized(append(out, id), body)
	}
	if r.err != nil {
		return nil, r.err
	}
	return out, nil
}

const codeSection = 10

func appendSized(out, body []byte) []byte {
	return append(binary.AppendUvarint(out, uint64(len(body))), body...)
}

// checkedBodies is a code section with stopCheck in its loops.
func checkedBodies(section []byte) ([]byte, error) {
	r := wasmReader{data: section}
	n := r.uleb()
	out := binary.AppendUvarint(make([]byte, 0, len(section)+len(section)/16), uint64(n))
	for range n {
		body := r.take(r.uleb())
		if r.err != nil {
			return nil, r.err
		}
		checked, err := checkedBody(body)
		if err != nil {
			return nil, err
		}
		out = appendSized(out, checked)
	}
	return out, r.err
}

func checkedBody(body []byte) ([]byte, error) {
	r := wasmReader{data: body}
	for range r.uleb() { // local variables: how many, of which type
		r.uleb()
		r.byte()
	}
	var out []byte
	copied := 0
	for r.at < len(body) && r.err == nil {
		if op := r.instruction(); op == opLoop && r.err == nil {
			out = append(append(out, body[copied:r.at]...), stopCheck...)
			copied = r.at
		}
	}
	return append(out, body[copied:]...), r.err
}

// wasmReader reads a module. After an error it returns zeros.
type wasmReader struct {
	data []byte
	at   int
	err  error
}

func (r *wasmReader) take(n int) []byte {
	if r.err != nil || n < 0 || n > len(r.data)-r.at {
		r.fail("it ends too soon")
		return nil
	}
	r.at += n
	return r.data[r.at-n : r.at]
}

func (r *wasmReader) fail(why string) {
	if r.err == nil {
		r.err = fmt.Errorf("%w: %s at byte %d", errModule, why, r.at)
	}
}

func (r *wasmReader) byte() byte {
	if b := r.take(1); b != nil {
		return b[0]
	}
	return 0
}

// uleb reads an unsigned number.
func (r *wasmReader) uleb() int {
	v, n := binary.Uvarint(r.data[r.at:])
	if r.take(n); n <= 0 || v > 1<<32-1 {
		r.fail("a number is too large")
		return 0
	}
	return int(v)
}

// skip skips a signed or unsigned number of any size.
func (r *wasmReader) skip() {
	for r.byte()&0x80 != 0 {
	}
}

const opLoop = 0x03

// instruction skips one instruction with its operands and returns its code. It
// refuses instructions that today's module does not use, so that a future one is
// not misread.
func (r *wasmReader) instruction() byte {
	op := r.byte()
	switch {
	case op == 0x02, op == opLoop, op == 0x04, op == 0x06: // block, loop, if, try: their type
		r.skip()
	case op == 0x00, op == 0x01, op == 0x05, op == 0x0a, op == 0x0b, op == 0x0f, op == 0x19, op == 0x1a, op == 0x1b: // nothing
	case op >= 0x07 && op <= 0x09, op == 0x0c, op == 0x0d, op == 0x10, op == 0x18, op >= 0x20 && op <= 0x26: // an index
		r.skip()
	case op == 0x0e: // br_table
		r.skips(r.uleb() + 1)
	case op == 0x11, op >= 0x28 && op <= 0x3e: // call_indirect; loads and stores
		r.skips(2)
	case op == 0x1c: // select with types
		r.skips(r.uleb())
	case op == 0x1f: // try_table
		r.tryTable()
	case op == 0x3f, op == 0x40, op == 0x41, op == 0x42, op == 0xd0, op == 0xd2: // memory.size, memory.grow, constants, references
		r.skip()
	case op == 0x43:
		r.take(4)
	case op == 0x44:
		r.take(8)
	case op >= 0x45 && op <= 0xc4, op == 0xd1: // arithmetic
	case op == 0xfc:
		r.bulk()
	case op == 0xfd:
		r.vector()
	default:
		r.fail(fmt.Sprintf("unknown instruction %#x", op))
	}
	return op
}

func (r *wasmReader) skips(n int) {
	for ; n > 0 && r.err == nil; n-- {
		r.skip()
	}
}

func (r *wasmReader) tryTable() {
	r.skip()
	for n := r.uleb(); n > 0 && r.err == nil; n-- {
		if kind := r.byte(); kind <= 1 { // catch and catch_ref name a tag
			r.skip()
		}
		r.skip()
	}
}

// bulk skips the rest of an instruction that starts with 0xfc.
func (r *wasmReader) bulk() {
	switch op := r.uleb(); op {
	case 0, 1, 2, 3, 4, 5, 6, 7: // saturating conversions
	case 9, 11, 13, 15, 16, 17:
		r.skip()
	case 8, 10, 12, 14:
		r.skips(2)
	default:
		r.fail(fmt.Sprintf("unknown instruction 0xfc %d", op))
	}
}

// vector skips the rest of an instruction that starts with 0xfd.
func (r *wasmReader) vector() {
	switch op := r.uleb(); {
	case op <= 11, op == 92, op == 93: // loads and stores
		r.skips(2)
	case op == 12, op == 13: // 16 bytes: a constant, a shuffle
		r.take(16)
	case op >= 21 && op <= 34: // a lane
		r.byte()
	case op >= 84 && op <= 91: // loads and stores of a lane
		r.skips(2)
		r.byte()
	case op > 275:
		r.fail(fmt.Sprintf("unknown instruction 0xfd %d", op))
	}
}
