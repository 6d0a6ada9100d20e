package session

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"legwright/app/plan"
	"legwright/app/terrain"
)

// heights is what was read of terrain files, and for which.
type heights struct {
	of    []plan.Terrain
	model *terrain.Model
}

// OpenTerrain adds terrain files to the plan; one that it names already is named anew. The
// error is a *plan.Invalid.
func (s *Session) OpenTerrain(files ...plan.Terrain) error {
	list := slices.Clone(s.Plan().Terrain)
	for _, f := range files {
		i := slices.IndexFunc(list, func(x plan.Terrain) bool { return x.Path == f.Path })
		if i < 0 {
			list = append(list, f)
		} else {
			list[i] = f
		}
	}
	return s.setTerrain("open terrain", list)
}

// RemoveTerrain takes all terrain files out of the plan.
func (s *Session) RemoveTerrain() error { return s.setTerrain("remove terrain", nil) }

func (s *Session) setTerrain(step string, list []plan.Terrain) error {
	if slices.Equal(list, s.Plan().Terrain) {
		return nil
	}
	return s.do(step, "", s.Plan().SetTerrain(list))
}

// SetGround hands over the heights that were read of some terrain files. It is no act: while
// the plan names other files they are not used, and undoing brings them back.
func (s *Session) SetGround(of []plan.Terrain, m *terrain.Model) {
	s.ground = heights{slices.Clone(of), m}
	s.tell(groundChanged(s.Plan()), "")
}

// Ground returns the heights of the plan's terrain files. ok is false while they have not
// been read; without files there are none, and ok is true.
func (s *Session) Ground() (m *terrain.Model, ok bool) {
	switch {
	case len(s.Plan().Terrain) == 0:
		return nil, true
	case slices.Equal(s.ground.of, s.Plan().Terrain):
		return s.ground.model, s.ground.model != nil
	}
	return nil, false
}

// parseCounts reads climb and descent as a person counted them, with a stroke between: "7 x 10 / 3 x 10",
// "70 m / 30 m", or as they are shown, "+70 −30". One count alone is the climb, and
// leaves the descent as it is; nothing takes both counts back.
func parseCounts(text string, before plan.Counted) (climb, descent plan.Counted, err error) {
	if shown := strings.Fields(strings.ReplaceAll(text, "−", "-")); len(shown) == 2 && shown[0][0] == '+' && shown[1][0] == '-' {
		text = strings.TrimRight(shown[0][1:], "mM") + "m/" + strings.TrimRight(shown[1][1:], "mM") + "m"
	}
	up, down, both := strings.Cut(text, "/")
	if climb, err = parseCount(up); err != nil {
		return climb, descent, err
	}
	switch {
	case both:
		descent, err = parseCount(down)
	case climb.Known:
		descent = before
	}
	return climb, descent, err
}

// CountsText writes climb and descent that a person counted as they can be typed: "70 m / 30 m",
// "70 m" or "/ 30 m" where only one was counted, and "" for none; to a centimetre.
func CountsText(climb, descent plan.Counted) string {
	text := countText(climb)
	if descent.Known {
		text += " / " + countText(descent)
	}
	return strings.TrimSpace(text)
}

func countText(c plan.Counted) string {
	if !c.Known {
		return ""
	}
	return strconv.FormatFloat(math.Round(c.M*100)/100, 'f', -1, 64) + " m"
}

// parseCount reads what a person counted on the map: contours times their interval, as "7 x 10", or
// metres, as "70 m"; nothing for no count. A number alone could be either, and is
// refused.
func parseCount(text string) (plan.Counted, error) {
	body := strings.ToLower(strings.Join(strings.Fields(text), ""))
	if body == "" {
		return plan.Counted{}, nil
	}
	lines, interval, times := strings.Cut(strings.ReplaceAll(body, "×", "x"), "x")
	interval, metres := strings.CutSuffix(interval, "m")
	if !times {
		lines, metres = strings.CutSuffix(body, "m")
		interval = "1"
	}
	n, err := strconv.ParseFloat(lines, 64)
	each, err2 := strconv.ParseFloat(interval, 64)
	switch {
	case err != nil || err2 != nil || n < 0 || each < 0:
		return plan.Counted{}, refuse("%q is not a count of contours: type one such as 7 x 10 / 3 x 10 (seven contours of 10 m up and three down) or 70 m / 30 m", tidy(text))
	case !times && !metres && n != 0:
		return plan.Counted{}, refuse("%s could be contours or metres: type %s x 10 for contours of 10 m, or %s m", tidy(text), tidy(text), tidy(text))
	}
	return plan.Count(n * each), nil
}
