package teach

import (
	"math"
	"slices"

	"legwright/app/units"
)

// sameSum is how near two sums of angles lie to count as equal, radians per angle.
const sameSum units.Angle = 1e-9

// CircularMedian returns the direction from which the angles lie least far away: the sum
// of their distances from it round the circle is the smallest (N. I. Fisher, Statistical
// Analysis of Circular Data, 1993, section 2.3.2, from memory). Where a whole arc of
// directions does, it is the arc's middle. It reports false without angles, and where
// directions apart from each other do as well, as for 000° and 180°: such guesses have no
// middle.
func CircularMedian(angles []units.Angle) (units.Angle, bool) {
	best, least := nearestOf(angles)
	slack := sameSum * units.Angle(len(angles))
	from, arcs := 0, 0
	for i, a := range best { // an arc ends where the way to the next best angle is worse
		next := (i + 1) % len(best)
		way := best[next] - a
		if way <= 0 {
			way += 2 * math.Pi
		}
		if distancesFrom(a+way/2, angles) > least+slack {
			from, arcs = next, arcs+1
		}
	}
	if arcs != 1 {
		return 0, false
	}
	last := best[(from+len(best)-1)%len(best)]
	return (best[from] + (last-best[from]).Turn()/2).Turn(), true
}

// nearestOf returns those of the angles, in order, from which all of them lie least far
// away, and how far. The sum is smallest at one of the angles, for between them it is
// straight or bends down.
func nearestOf(angles []units.Angle) (best []units.Angle, least units.Angle) {
	sorted := make([]units.Angle, len(angles))
	for i, a := range angles {
		sorted[i] = a.Turn()
	}
	slices.Sort(sorted)
	least = units.Angle(math.Inf(1))
	slack := sameSum * units.Angle(len(angles))
	for _, a := range slices.Compact(sorted) {
		sum := distancesFrom(a, angles)
		if sum < least-slack {
			best, least = nil, sum
		}
		if sum <= least+slack {
			best = append(best, a)
		}
	}
	return best, least
}

// distancesFrom adds up how far the angles lie from one direction.
func distancesFrom(from units.Angle, angles []units.Angle) (sum units.Angle) {
	for _, a := range angles {
		sum += units.Angle(math.Abs(float64((a - from).Signed())))
	}
	return sum
}
