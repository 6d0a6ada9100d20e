package plan

// Mark is a named place: a cairn, a hut, an attack point.
type Mark struct {
	ID       ID
	Name     string
	Position Position
	Note     string
}

// Leg is one stretch of the route, walked from From to To.
type Leg struct {
	ID       ID
	From, To End
	Name     string
	TickOff  string // features passed on the way, to tick off
	TooFar   string // what shows that the party has gone too far
	Note     string
}

// Sight is a reading from a position to a feature that is kept but not walked.
type Sight struct {
	ID       ID
	From, To End
	Name     string
	Note     string
}
