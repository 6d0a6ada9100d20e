package tiff

// readCoding checks that the encoding is one that is read, with these
// samples.
func (p *Page) readCoding() error {
	switch p.compression {
	case compNone, compLZW, compPackBits, compDeflate, compOldDeflate:
	case compCCITT:
		return unsupported("its pixels are facsimile data in modified Huffman code")
	case compG3, compG4:
		if p.BitDepth != 1 || p.perChunk() != 1 {
			return corrupt("its facsimile data has %d samples of %d bits, but only one of 1 bit can be read", p.perChunk(), p.BitDepth)
		}
		if p.ChunkWidth > maxFaxWidth {
			return unsupported("its facsimile rows have %d pixels, but at most %d can be read", p.ChunkWidth, maxFaxWidth)
		}
		const twoDimensions, uncompressed, fill = 1, 2, 4
		if p.compression == compG3 && p.d.number(tagT4Options, 0)&(twoDimensions|uncompressed|fill) != 0 ||
			p.compression == compG4 && p.d.number(tagT6Options, 0)&uncompressed != 0 {
			return unsupported("its facsimile data is two-dimensional group 3, has fill bits or is not compressed")
		}
	case compJPEG:
		if p.BitDepth != 8 || p.Format != Unsigned {
			return unsupported("its JPEG data has %d-bit samples, but only 8-bit ones can be read", p.BitDepth)
		}
		if n := p.perChunk(); n == 2 || n > 4 {
			return unsupported("its JPEG data has %d samples per pixel, but only 1, 3 or 4 can be read", n)
		}
	default:
		if p.Compression != "" {
			return unsupported("its pixels are encoded as %s", p.Compression)
		}
		return unsupported("its pixels are encoded in an unknown way (%d)", p.compression)
	}
	if p.rowBytes() > maxRowBytes {
		return unsupported("its rows take %d MB each, but at most %d MB can be read", p.rowBytes()>>20, maxRowBytes>>20)
	}
	return p.checkPredictor()
}

// maxFaxWidth bounds the length of a facsimile row in pixels.
const maxFaxWidth = 1 << 18

// maxRowBytes bounds what one stored row may take.
const maxRowBytes = 1 << 27

func (p *Page) checkPredictor() error {
	if !p.predicts() {
		return nil
	}
	switch p.predictor {
	case 1:
		return nil
	case 2:
		if b := p.BitDepth; b != 8 && b != 16 && b != 32 && b != 64 {
			return unsupported("it stores differences (predictor 2) of %d-bit samples", b)
		}
		return nil
	case 3:
		if p.Format != Float {
			return corrupt("it uses the predictor for floating-point samples on samples of format %d", p.Format)
		}
		return nil
	}
	return unsupported("it uses predictor %d, but only 1 to 3 can be read", p.predictor)
}

// predicts says whether the encoding uses a predictor at all; elsewhere the
// field means nothing.
func (p *Page) predicts() bool {
	switch p.compression {
	case compLZW, compDeflate, compOldDeflate:
		return true
	}
	return false
}
