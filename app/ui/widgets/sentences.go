package widgets

// Sentences lends sentences to somebody who shows other ones after each act, and uses
// those of the last time again: a new one takes the toolkit most of a millisecond.
type Sentences struct {
	all  []*Sentence
	lent int
}

// Again takes all sentences back.
func (s *Sentences) Again() { s.lent = 0 }

// Next lends a sentence with these words.
func (s *Sentences) Next(text string, tone Tone) *Sentence {
	if s.lent == len(s.all) {
		s.all = append(s.all, NewSentence(text, tone))
	}
	next := s.all[s.lent]
	next.Set(text, tone)
	s.lent++
	return next
}
