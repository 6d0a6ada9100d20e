package planfile

import (
	"legwright/app/pace"
	"legwright/app/plan"
)

// timingShape is how walking times are worked out and when the party sets out. A zone
// stands by its name, for an offset would miss the change to summer time.
type timingShape struct {
	Method         string  `json:"method"`
	Langmuir       bool    `json:"langmuir,omitempty"`
	Fitness        int     `json:"tranter_fitness,omitempty"`
	Load           bool    `json:"load_20_kg,omitempty"`
	Night          bool    `json:"night,omitempty"`
	HeadWind       bool    `json:"head_wind,omitempty"`
	RestMinPerHour float64 `json:"rest_min_per_hour"`
	Start          string  `json:"start,omitempty"`
	Zone           string  `json:"time_zone,omitempty"`
	UntilDusk      bool    `json:"until_civil_dusk,omitempty"`
	Latest         string  `json:"latest,omitempty"`
}

func timingToShape(t plan.Timing) *timingShape {
	return &timingShape{
		Method: string(t.Method), Langmuir: t.Langmuir, Fitness: int(t.Fitness),
		Load: t.Load, Night: t.Night, HeadWind: t.HeadWind,
		RestMinPerHour: t.RestMinPerHour, Start: t.Start.String(), Zone: t.Zone, UntilDusk: t.UntilDusk, Latest: t.Latest.String(),
	}
}

// timing reads it; a file from before there was one has that of a new plan, without a
// start.
func (r *reader) timing(s *timingShape) plan.Timing {
	if s == nil {
		return plan.DefaultTiming()
	}
	clock := func(text string) plan.TimeOfDay {
		at, err := plan.ParseTimeOfDay(text)
		if err != nil {
			r.fail("%v", err)
		}
		return at
	}
	return plan.Timing{
		Method: pace.Method(s.Method), Langmuir: s.Langmuir, Fitness: pace.Fitness(s.Fitness),
		Load: s.Load, Night: s.Night, HeadWind: s.HeadWind,
		RestMinPerHour: s.RestMinPerHour, Start: clock(s.Start), Zone: s.Zone, UntilDusk: s.UntilDusk, Latest: clock(s.Latest),
	}
}
