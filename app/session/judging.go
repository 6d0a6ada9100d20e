package session

import (
	"sync/atomic"

	"legwright/app/escape"
	"legwright/app/leg"
)

// Judging is sheets that are calibrated and judged beside the window, once a control point
// rests, and the escapes of their plan; or the escapes alone, where the sheets need nothing.
// The session hands it to whoever JudgeBeside named, Do works on any goroutine, EndJudging
// gives the session what came of it. As soon as the session has no more use for it, as when a
// point moves on, Do returns early.
type Judging struct {
	of      *leg.Reader // in which they wait
	sheets  bool        // are judged too
	loose   *loose      // the sheet to calibrate, nil for none
	judged  *leg.Reader
	escapes escapes // of judged
	useless atomic.Bool
}

// Do calibrates and judges, and reads what is shown of the sheets afterwards: the rows of
// the ledger and the escapes would take the window most of a frame each.
func (w *Judging) Do() {
	if w.useless.Load() {
		return
	}
	w.judged = w.of
	if w.sheets {
		p := w.of.Plan()
		if w.loose != nil {
			p = p.Recalibrated(w.loose.from, w.of.Fit)
		}
		w.judged, _ = w.of.ForUntil(w.useless.Load, p) // its readings give the error
	}
	if !w.useless.Load() {
		w.judged.Legs()
		judged, _ := escape.OfUntil(w.useless.Load, w.judged) // whole, unless nobody has a use for it
		w.escapes = escapes{w.judged, judged}
	}
}

// beside is what is judged beside the window.
type beside struct {
	start func(*Judging) // nil: the session judges by itself
	now   *Judging       // the latest; nil for none
	late  bool           // the act under way leaves its sheets to be judged so
}

// atOnce is how many control points are fitted and judged within a frame.
const atOnce = 40

// sheets reports whether sheets are judged there.
func (b *beside) sheets() bool { return b.now != nil && b.now.sheets }

// use makes another Judging the latest, or with nil none.
func (b *beside) use(w *Judging) {
	if b.now != nil && b.now != w {
		b.now.useless.Store(true)
	}
	b.now = w
}

// JudgeBeside has sheets with many control points, and many escapes, judged by start once
// nothing moves. Until EndJudging they wait, as while the points move. start must call Do on
// the Judging, and then, on the session's goroutine, EndJudging. It may be called again before
// that: only the latest counts.
func (s *Session) JudgeBeside(start func(*Judging)) { s.beside.start = start }

// EndJudging takes what was judged, and tells that the verdicts are there. What moved since
// is judged again once it rests.
func (s *Session) EndJudging(w *Judging) {
	switch {
	case s.beside.now != w:
		return
	case !s.judging() && s.owed.Has(CalibrationChanged):
		s.beside.use(nil)
		return
	case !w.sheets:
		s.endEscapes(w)
		return
	case !s.judging():
		s.Reader() // has the plan of another act judged
		return
	}
	s.beside.use(nil)
	if s.loose != nil {
		s.settleAs(w.judged.Plan())
	}
	s.reader, s.snaps, s.escapes = w.judged, nil, w.escapes
	s.tell(EvidenceChanged, "")
}

// endEscapes takes escapes that were judged alone, unless what is to be said of them has
// changed since: then whoever asks has them judged again.
func (s *Session) endEscapes(w *Judging) {
	s.beside.use(nil)
	if r := s.Reader(); sameOff(w.of, r) {
		s.escapes = escapes{r, w.escapes.judged}
		s.tell(EscapesJudged, "")
	}
}

// Judged is Reader with every sheet judged, for what is written or kept.
func (s *Session) Judged() *leg.Reader { return s.Reader().Judged() }

// judging reports whether the sheets of the plan as it is now are being judged beside the
// window.
func (s *Session) judging() bool { return s.beside.sheets() && s.beside.now.of.Plan() == s.Plan() }

// waits reports whether sheets wait to be judged: control points move, or it is done
// beside the window.
func (s *Session) waits() bool {
	return s.owed.Has(CalibrationChanged) || s.loose != nil || s.judging()
}

// rest tells that moves have ended, with all that they touched, and has the sheets
// calibrated and judged. What the moves of a loose sheet touched it tells once that is
// calibrated: until then every room shows it as since the first move.
func (s *Session) rest() {
	r := s.Reader()
	if s.beside.start == nil || s.loose == nil && r.Waiting() <= atOnce {
		s.settle()
		s.tell(0, s.hist.UndoName())
		return
	}
	w := &Judging{of: r, sheets: true, loose: s.loose}
	s.beside.use(w)
	if s.loose == nil {
		s.tell(0, s.hist.UndoName())
	} else if what := s.owed & (HistoryChanged | FileChanged); what != 0 {
		s.owed &^= what
		s.notify(Change{What: what, Step: s.hist.UndoName()})
	}
	s.beside.start(w)
}

// judgeAgain has the plan judged that another act made while sheets are judged beside the
// window; they wait on.
func (s *Session) judgeAgain() {
	if s.reader.Waiting() <= atOnce {
		s.beside.use(nil)
		s.reader, _ = s.reader.For(s.Plan()) // its readings give the error
		return
	}
	s.beside.use(&Judging{of: s.reader, sheets: true})
	s.beside.start(s.beside.now)
}
