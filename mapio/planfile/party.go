package planfile

import (
	"math"

	"legwright/app/plan"
	"legwright/app/units"
)

type partyShape struct {
	Compass      *compassShape `json:"compass"`
	SpeedKmh     float64       `json:"speed_kmh"`
	RunSpeedKmh  float64       `json:"run_speed_kmh"`
	PacesPer100m float64       `json:"double_paces_per_100m"`
	PacesUp      float64       `json:"double_paces_per_100m_up,omitempty"`
	PacesDown    float64       `json:"double_paces_per_100m_down,omitempty"`
	PaceSigma    float64       `json:"pacing_sigma"`
}

type compassShape struct {
	Set      bool    `json:"housing_set"`
	SetToDeg float64 `json:"housing_set_to_deg"`
	SigmaDeg float64 `json:"sigma_deg"`
	Circle   string  `json:"circle"`
}

// degrees returns an angle in degrees to 1e-9, so that it reads as it was
// typed and comes back the same however often it is written.
func degrees(a units.Angle) float64 { return math.Round(a.Deg()*1e9) / 1e9 }

func partyToShape(p plan.Party) *partyShape {
	c := p.Compass
	return &partyShape{
		Compass: &compassShape{
			Set: c.Set, SetToDeg: degrees(c.SetTo), SigmaDeg: degrees(c.Sigma), Circle: circleToken(c.Circle),
		},
		SpeedKmh: p.SpeedKmh, RunSpeedKmh: p.RunSpeedKmh, PaceSigma: p.PaceSigma,
		PacesPer100m: p.PacesPer100m, PacesUp: p.PacesUp, PacesDown: p.PacesDown,
	}
}

// circleToken names a circle in the file.
func circleToken(c units.Circle) string {
	switch c {
	case units.HalfDegrees:
		return "half-degrees"
	case units.Mils6400:
		return "mils-6400"
	case units.Gon400:
		return "gon-400"
	}
	return "degrees"
}

func (r *reader) party(s *partyShape) plan.Party {
	p := plan.DefaultParty()
	if s == nil {
		return p
	}
	p.SpeedKmh, p.RunSpeedKmh, p.PaceSigma = s.SpeedKmh, s.RunSpeedKmh, s.PaceSigma
	p.PacesPer100m, p.PacesUp, p.PacesDown = s.PacesPer100m, s.PacesUp, s.PacesDown
	if c := s.Compass; c != nil {
		p.Compass = plan.Compass{
			Set: c.Set, SetTo: units.Degrees(c.SetToDeg), Sigma: units.Degrees(c.SigmaDeg), Circle: r.circle(c.Circle),
		}
	}
	return p
}

func (r *reader) circle(token string) units.Circle {
	for _, c := range units.Circles() {
		if circleToken(c) == token {
			return c
		}
	}
	if token != "" {
		r.fail("compass circle %q is not known", token)
	}
	return units.WholeDegrees
}

func (r *reader) date(text string) plan.Date {
	if text == "" {
		return plan.Date{}
	}
	d, err := plan.ParseDate(text)
	if err != nil {
		r.fail("%v", err)
	}
	return d
}
