package teach

import "legwright/app/leg"

// Read reads the line of the lesson, with the training GMA where one is declared. The
// errors are ErrNoLine and those of leg.Reader.Read.
func (l *Lesson) Read(r *leg.Reader) (leg.Reading, error) {
	if !l.has {
		return leg.Reading{}, ErrNoLine
	}
	p := r.Plan()
	out, err := r.Read(p.Resolve(l.line.From), p.Resolve(l.line.To))
	if err != nil || !l.trains {
		return out, err
	}
	return Trained(out, l.training, p.Party.Compass.Circle), nil
}
