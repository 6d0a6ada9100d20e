package pyramid

// Grey reports whether the picture has no colours: it is kept as grey, or all
// colours of its palette are greys. Until level 0 is ready it is false.
func (p *Pyramid) Grey() bool {
	l := p.layer(0)
	if l == nil {
		return false
	}
	if l.kind().model != indexed {
		return l.kind().model == grey
	}
	lut := lutOf(l)
	if t, ok := l.(*tiled); ok {
		s, done, err := t.rawTile(0, 0, true)
		if err != nil {
			return false
		}
		lut = s.pal.lut
		done()
	}
	for _, c := range lut {
		if c[0] != c[1] || c[1] != c[2] {
			return false
		}
	}
	return true
}
