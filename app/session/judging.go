package session

import "legwright/app/leg"

// Judging is sheets that are judged beside the window, once a control point rests. The
// session hands it to whoever JudgeBeside named, Do judges on any goroutine, EndJudging
// gives the session what came of it.
type Judging struct {
	of     *leg.Reader // in which they wait
	judged *leg.Reader
}

// Do judges.
func (w *Judging) Do() { w.judged = w.of.Judged() }

// beside is what is judged beside the window.
type beside struct {
	start func(*Judging) // nil: the session judges by itself
	now   *Judging       // the latest; nil for none
}

// atOnce is how many control points are fitted and judged within a frame.
const atOnce = 40

// JudgeBeside has sheets with many control points judged by start once these rest. Until
// EndJudging they wait, as while the points move. start must call Do on the Judging, and
// then, on the session's goroutine, EndJudging.
func (s *Session) JudgeBeside(start func(*Judging)) { s.beside.start = start }

// EndJudging takes what was judged, and tells that the verdicts are there. Sheets that
// moved since are judged again once they rest, and by any other act at once.
func (s *Session) EndJudging(w *Judging) {
	if s.beside.now != w {
		return
	}
	s.beside.now = nil
	if s.owed.Has(CalibrationChanged) || s.Plan() != w.of.Plan() {
		return
	}
	s.reader, s.snaps = w.judged, nil
	s.tell(EvidenceChanged, "")
}

// Judged is Reader with every sheet judged, for what is written or kept.
func (s *Session) Judged() *leg.Reader { return s.Reader().Judged() }

// waits reports whether sheets wait to be judged: control points move, or it is done
// beside the window.
func (s *Session) waits() bool {
	return s.owed.Has(CalibrationChanged) || s.beside.now != nil && s.beside.now.of.Plan() == s.Plan()
}

// rest tells that moves have ended, with all that they touched, and has the sheets judged.
func (s *Session) rest() {
	s.settle()
	var w *Judging
	if r := s.Reader(); s.beside.start != nil && r.Waiting() > atOnce {
		w = &Judging{of: r}
		s.beside.now = w
	}
	s.tell(0, s.hist.UndoName())
	if w != nil {
		s.beside.start(w)
	}
}
