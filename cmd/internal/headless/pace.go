package headless

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/pace"
)

const paceHelp = `
Reads rows "distance_m climb_m descent_m" and writes the minutes of walking for each,
without rests. The distance is divided between climb and descent in proportion to their
heights. A row that is steeper than 45° on the whole is an error.

The methods are naismith-metric (a speed, and 10 minutes for every 100 m of climb),
naismith-1892 (an hour for every 3 miles and another for every 2,000 feet) and tobler.

--langmuir takes 10 minutes off for every 300 m of descent at 5 to 12 degrees, and adds 10
minutes for every 300 m that is steeper. --fitness takes each row as a whole route and
corrects Naismith's hours for the party's fitness by Tranter's table: 15, 20, 25, 30, 40 or
50 minutes to climb 300 m in 800 m of walking. If the table calls a route too much to be
attempted, that row is an error. Neither flag can be used with tobler.

--ground is path, off-path, rough or plantation; nobody gets through plantation. Without
--ground the method's own speed is used:
  naismith-metric  its speed is for ground off a path; it is a quarter faster on a path, and
                   six tenths of that speed on rough ground
  naismith-1892    has one speed on a path and off it, and six tenths of that on rough
                   ground
  tobler           its speed is for a path; it is six tenths of that off a path, and six
                   tenths of that again on rough ground
`

func paceCommand() command {
	return command{
		name:  "pace",
		usage: "--method METHOD [--speed-kmh 4] [--langmuir] [--fitness MINUTES] [--ground GROUND] < ROWS",
		about: "give walking times",
		run:   runPace,
	}
}

// choiceFlag is one of several words.
type choiceFlag[T ~string] struct {
	value T
	of    []T
}

func (c *choiceFlag[T]) String() string { return string(c.value) }

func (c *choiceFlag[T]) Set(text string) error {
	if !slices.Contains(c.of, T(text)) {
		return fmt.Errorf("give %s", oneOf(c.of))
	}
	c.value = T(text)
	return nil
}

// oneOf writes words as a choice: "a, b or c".
func oneOf[T ~string](words []T) string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = string(w)
	}
	return joinOr(all)
}

func joinOr(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// pacer answers rows about walking times.
type pacer struct {
	rule    pace.Rule
	ground  pace.Ground
	fitness pace.Fitness // 0 for none
}

// Errors of a row that cannot be walked.
var (
	errPlantation = errors.New("nobody gets through plantation")
	errTooMuch    = errors.New("according to Tranter's table this route is too much to be attempted")
	errNegative   = errors.New("distance, climb and descent must not be below 0")
	errTooSteep   = errors.New("climb and descent add up to more than the distance, which is steeper than 45°: no rule for walking holds there; check the figures")
	errNoLength   = errors.New("a climb or descent needs a distance above 0")
	errNoTime     = errors.New("nobody walks so far or so steeply: check the figures")
)

func runPace(c command, args []string, s streams) error {
	o := newOptions(c, paceHelp)
	method := choiceFlag[pace.Method]{of: pace.Methods()}
	ground := choiceFlag[pace.Ground]{of: pace.Grounds()[1:]}
	speed := numberFlag{value: 4, min: 0.5, max: 15}
	fitness := numberFlag{min: 15, max: 50}
	o.Var(&method, "method", "the `METHOD`: "+oneOf(pace.Methods()))
	o.Var(&speed, "speed-kmh", "the speed of naismith-metric on the flat, in `KMH`")
	langmuir := o.Bool("langmuir", false, "use Langmuir's corrections for descents")
	o.Var(&fitness, "fitness", "the party's fitness in Tranter's table: `MINUTES` to climb 300 m in 800 m")
	o.Var(&ground, "ground", "the `GROUND` underfoot")
	if err := o.readFlags(args, s); err != nil {
		return err
	}
	p := pacer{pace.Rule{Method: method.value, SpeedKmh: speed.value, Langmuir: *langmuir}, ground.value, pace.Fitness(fitness.value)}
	if ground.value == pace.Unsaid {
		p.ground = method.value.OwnGround()
	}
	if err := p.check(o, fitness.value); err != nil {
		return err
	}
	return runBatch(s, func() rowFunc { return p.row })
}

// check refuses flags that do not go together.
func (p pacer) check(o *options, fitness float64) error {
	switch {
	case p.rule.Method == "":
		return usagef("--method is missing: give %s", oneOf(pace.Methods()))
	case o.set("speed-kmh") && p.rule.Method != pace.NaismithMetric:
		return usagef("--speed-kmh works only with naismith-metric")
	case (p.rule.Langmuir || p.fitness != 0) && !p.rule.Method.CountsClimb():
		return usagef("--langmuir and --fitness work only with naismith-metric and naismith-1892")
	case p.fitness != 0 && (float64(p.fitness) != fitness || !slices.Contains(pace.Fitnesses(), p.fitness)):
		return usagef("--fitness must be 15, 20, 25, 30, 40 or 50")
	}
	return nil
}

func (p pacer) row(dst, line []byte) ([]byte, error) {
	var v [3]float64
	if _, err := numbers(v[:], 3, line, "distance_m climb_m descent_m"); err != nil {
		return nil, err
	}
	switch {
	case min(v[0], v[1], v[2]) < 0:
		return nil, errNegative
	case v[0] == 0 && v[1]+v[2] > 0:
		return nil, errNoLength
	case v[1]+v[2] > v[0]:
		return nil, errTooSteep
	case !p.ground.Passable():
		return nil, errPlantation
	}
	minutes := p.rule.Minutes(pace.Even(v[0], v[1], v[2]), p.ground)
	if math.IsInf(minutes, 0) || math.IsNaN(minutes) {
		return nil, errNoTime
	}
	if p.fitness != 0 {
		hours, ok := pace.Tranter(p.fitness, minutes/60)
		if !ok {
			return nil, errTooMuch
		}
		minutes = hours * 60
	}
	return appendRow(dst, minutes), nil
}
