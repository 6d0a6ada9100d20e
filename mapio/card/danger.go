package card

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/leg"
	"legwright/app/plan"
)

// ErrNoLegs is returned for a plan without a route.
var ErrNoLegs = errors.New("the plan has no legs: draw the route before you print it")

// Dangerous is the error for escapes that no paper may offer as a way off.
type Dangerous struct {
	Names []string // of the escapes
	Why   []string // a sentence for each
}

func (e *Dangerous) Error() string {
	return strings.Join(e.Why, " ") + " An escape like this is not printed: draw it round the danger, or leave out " + strings.Join(e.Names, ", ") + "."
}

// dangerWords say what leads an escape into danger: "Escape E03-1, leg 2, comes within 12 m of crag
// 1, 300 m from its start. Reroute it."
func dangerWords(name string, c caution.Caution) string {
	text := c.About("").Text()
	if comes, of := strings.CutPrefix(text, "The leg "); of {
		return "Escape " + name + ", " + c.Subject + ", " + comes
	}
	return "Escape " + name + ", " + c.Subject + ": " + text
}

// Unknown is the error for an escape to leave out that the plan does not have.
type Unknown struct{ Name string }

func (e *Unknown) Error() string {
	return fmt.Sprintf("there is no escape %q to leave out: name it as the list of escapes does, such as E03-1", e.Name)
}

// without returns what was judged without some escapes, named as E03-1, and without the
// turn-back times that were worked out by them.
func without(j escape.Judged, names []string) (escape.Judged, error) {
	for _, name := range names {
		i := slices.IndexFunc(j.Escapes, func(e escape.Escape) bool { return e.Name == name })
		if i < 0 {
			return j, &Unknown{name}
		}
		left := j.Escapes[i]
		j.Escapes = slices.Delete(slices.Clone(j.Escapes), i, i+1)
		j.Stages = slices.Clone(j.Stages)
		for n := range j.Stages {
			s := &j.Stages[n]
			s.Escapes = slices.DeleteFunc(slices.Clone(s.Escapes), func(id plan.ID) bool { return id == left.ID })
			if left.Chosen && s.Mark == left.Mark {
				s.TurnBack, s.OffBy = escape.Stage{}.TurnBack, escape.OffBy{}
				s.Cautions = slices.DeleteFunc(slices.Clone(s.Cautions), ofTurnBack)
			}
		}
	}
	return j, nil
}

// ofTurnBack reports whether a caution speaks of a turn-back time.
func ofTurnBack(c caution.Caution) bool {
	switch c.Code {
	case caution.TurnBackPassed, caution.NoLatestHour, caution.TurnBackUnknown, caution.ReachFlat, caution.NoTurnBack:
		return true
	}
	return false
}

// readable returns why a plan cannot be printed: it has no legs, one that cannot be read, or an
// escape that leads into danger.
func readable(rows []leg.Row, j escape.Judged) error {
	if len(rows) == 0 {
		return ErrNoLegs
	}
	for i, row := range rows {
		if row.Err != nil {
			return fmt.Errorf("leg %d, %s to %s: %w", i+1, row.From, row.To, row.Err)
		}
	}
	bad := &Dangerous{}
	for _, e := range j.Escapes {
		for _, c := range e.Cautions {
			if c.Code == caution.NearHazard || c.Code == caution.SteepAhead {
				bad.Names = append(bad.Names, e.Name)
				bad.Why = append(bad.Why, dangerWords(e.Name, c))
				break
			}
		}
	}
	if len(bad.Names) > 0 {
		return bad
	}
	for _, e := range j.Escapes {
		for _, l := range e.Legs {
			if l.Err != nil {
				return fmt.Errorf("escape %s, leg %d: %w", e.Name, l.N, l.Err)
			}
		}
	}
	return nil
}
