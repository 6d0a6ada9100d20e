package teach

// Stepping returns where the lesson stands in stepping through the compass; false while
// the compass is not shown.
func (l *Lesson) Stepping() (Stepping, bool) { return l.stepping, l.steps }

// SetStepping shows the compass as it stands after a step.
func (l *Lesson) SetStepping(s Stepping) {
	s = s.To(s.Step)
	if l.steps && s == l.stepping {
		return
	}
	l.stepping, l.steps = s, true
	l.tell()
}

// ClearStepping shows the compass no longer. Where it stood is kept until another line
// comes.
func (l *Lesson) ClearStepping() {
	if !l.steps {
		return
	}
	l.steps = false
	l.tell()
}

// restart puts the compass before its first step, done right: another line has come.
func (l *Lesson) restart() { l.stepping.Step, l.stepping.Wrong = 0, DoneRight }

// step goes one step along or back where the compass is shown, and reports whether there
// was one.
func (l *Lesson) step(to func(Stepping) (Stepping, bool)) bool {
	next, ok := to(l.stepping)
	if !ok || !l.steps || !l.has {
		return false
	}
	l.SetStepping(next)
	return true
}
