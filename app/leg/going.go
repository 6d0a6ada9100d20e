package leg

import (
	"math"
	"time"

	"legwright/app/pace"
	"legwright/app/plan"
	"legwright/app/terrain"
)

// Going is what is known of walking along a line: how much it climbs and descends, and how
// long that takes without rests.
type Going struct {
	Climb, Descent Rise
	Time           time.Duration // 0 where it is not known
	Profile        terrain.Profile
}

// Going returns what is known of walking between two ends: of a leg what the ledger says,
// of any other line what the plan's terrain, its rule of walking times and what is drawn on
// the ground give, off a path elsewhere. Without terrain all of it there is nothing known of another line. The error is
// that of Read.
func (r *Reader) Going(id plan.ID, from, to plan.Position) (Going, error) {
	for _, row := range r.Legs() {
		if row.ID == id {
			return Going{row.Climb, row.Descent, row.Time, row.Profile}, row.Err
		}
	}
	reading, met, err := r.Walk(from, to, false)
	if err != nil {
		return Going{}, err
	}
	on, a, b := r.onGround(from, to)
	p := on.Underfoot(a, b)
	up, down, ok := p.Climb()
	if !ok {
		return Going{Profile: p}, nil
	}
	g := Going{Climb: Rise{up, RiseTerrain}, Descent: Rise{down, RiseTerrain}, Profile: p}
	row := Row{Reading: reading, Heights: Heights{Climb: g.Climb, Descent: g.Descent, Profile: p}, Met: met}
	minutes := row.Minutes(r.p.Timing.Rule(r.p.Party), pace.Unsaid)
	if hours, ok := r.p.Timing.OnRoute(minutes / 60); ok && !math.IsInf(hours, 0) {
		g.Time = pace.Duration(60 * hours)
	}
	return g, nil
}
