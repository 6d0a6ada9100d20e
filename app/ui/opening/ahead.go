package opening

import "legwright/mapio/scan"

// ReadAhead begins to read a picture before there is a desk: making the window takes
// as long as decoding a scan, on another core. The desk uses it if that picture is
// what it opens first. Call it once, before New.
func (s *Source) ReadAhead(path string) {
	s.ahead = s.read(wanted{path: path, side: scan.DefaultSide})
}

// takeAhead returns the reading that was begun ahead if it is the one that is wanted,
// else a new one.
func (s *Source) takeAhead(w wanted) *reading {
	r := s.ahead
	s.ahead = nil
	switch {
	case r == nil:
	case r.path == w.path && r.page == w.page && !w.afresh:
		return r
	default:
		go r.abandon()
	}
	return s.read(w)
}
