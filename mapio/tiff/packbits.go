package tiff

import "io"

// packBits unpacks the run-length encoding of TIFF 6.0, section 9.
type packBits struct {
	src  io.ByteReader
	left int // bytes of the present run still to come
	run  bool
	same byte
}

func (p *packBits) Read(out []byte) (int, error) {
	for i := range out {
		if p.left == 0 {
			if err := p.start(); err != nil {
				return i, err
			}
		}
		b := p.same
		if !p.run {
			var err error
			if b, err = p.src.ReadByte(); err != nil {
				return i, err
			}
		}
		out[i] = b
		p.left--
	}
	return len(out), nil
}

// start reads a count: n + 1 bytes as they are, or one byte 1 − n times; −128
// means nothing.
func (p *packBits) start() error {
	for {
		b, err := p.src.ReadByte()
		if err != nil {
			return err
		}
		n := int(int8(b))
		switch {
		case n >= 0:
			p.left, p.run = n+1, false
			return nil
		case n != -128:
			p.left, p.run = 1-n, true
			p.same, err = p.src.ReadByte()
			return err
		}
	}
}
