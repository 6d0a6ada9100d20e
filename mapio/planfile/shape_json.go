package planfile

// Every shape keeps what it does not know: reading splits it off, writing joins
// it on again.

func (s *planShape) UnmarshalJSON(data []byte) (err error) {
	type plain planShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s planShape) MarshalJSON() ([]byte, error) {
	type plain planShape
	return join(plain(s), s.extra)
}

func (s *partyShape) UnmarshalJSON(data []byte) (err error) {
	type plain partyShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s partyShape) MarshalJSON() ([]byte, error) {
	type plain partyShape
	return join(plain(s), s.extra)
}

func (s *compassShape) UnmarshalJSON(data []byte) (err error) {
	type plain compassShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s compassShape) MarshalJSON() ([]byte, error) {
	type plain compassShape
	return join(plain(s), s.extra)
}

func (s *sheetShape) UnmarshalJSON(data []byte) (err error) {
	type plain sheetShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s sheetShape) MarshalJSON() ([]byte, error) {
	type plain sheetShape
	return join(plain(s), s.extra)
}

func (s *pointShape) UnmarshalJSON(data []byte) (err error) {
	type plain pointShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s pointShape) MarshalJSON() ([]byte, error) {
	type plain pointShape
	return join(plain(s), s.extra)
}

func (s *proofShape) UnmarshalJSON(data []byte) (err error) {
	type plain proofShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s proofShape) MarshalJSON() ([]byte, error) {
	type plain proofShape
	return join(plain(s), s.extra)
}

func (s *doubtShape) UnmarshalJSON(data []byte) (err error) {
	type plain doubtShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s doubtShape) MarshalJSON() ([]byte, error) {
	type plain doubtShape
	return join(plain(s), s.extra)
}

func (s *positionShape) UnmarshalJSON(data []byte) (err error) {
	type plain positionShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s positionShape) MarshalJSON() ([]byte, error) {
	type plain positionShape
	return join(plain(s), s.extra)
}

func (s *markShape) UnmarshalJSON(data []byte) (err error) {
	type plain markShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s markShape) MarshalJSON() ([]byte, error) {
	type plain markShape
	return join(plain(s), s.extra)
}

func (s *endShape) UnmarshalJSON(data []byte) (err error) {
	type plain endShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s endShape) MarshalJSON() ([]byte, error) {
	type plain endShape
	return join(plain(s), s.extra)
}

func (s *legShape) UnmarshalJSON(data []byte) (err error) {
	type plain legShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s legShape) MarshalJSON() ([]byte, error) {
	type plain legShape
	return join(plain(s), s.extra)
}

func (s *sightShape) UnmarshalJSON(data []byte) (err error) {
	type plain sightShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s sightShape) MarshalJSON() ([]byte, error) {
	type plain sightShape
	return join(plain(s), s.extra)
}

func (s *trackShape) UnmarshalJSON(data []byte) (err error) {
	type plain trackShape
	s.extra, err = split(data, (*plain)(s))
	return err
}

func (s trackShape) MarshalJSON() ([]byte, error) {
	type plain trackShape
	return join(plain(s), s.extra)
}
