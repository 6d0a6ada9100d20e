package teach

import (
	"fmt"
	"math"

	"legwright/app/caution"
	"legwright/app/units"
)

// narrowDeg is the angle between two lines below which their crossing is badly known
// along them (common practice, no source).
const narrowDeg = 30

// words says whether two people mean the same feature. It never says that they do.
func (m *Meeting) words(p *pair, said [2]Sighting) string {
	if m.Stopped {
		return caution.Lead(m.Cautions, caution.OnLeg) + ". Whether you mean the same feature cannot be judged."
	}
	text := m.lineWords(p, said)
	if m.Verdict != Cannot {
		text += " " + m.fitWords() + m.hiddenWords(said)
	}
	return text
}

// lineWords speaks of the two lines.
func (m *Meeting) lineWords(p *pair, said [2]Sighting) string {
	switch {
	case p.together() && m.Verdict == Cannot:
		return fmt.Sprintf("Not the same feature: you both stand at the same position and your bearings are %.0f° apart.", m.Apart.Deg())
	case p.together():
		return "You both stand at the same position, so your lines cross only there. Take one bearing from somewhere else."
	case m.Verdict == Cannot:
		return "Not the same feature: " + p.whyNot(said) + "."
	case m.Crossing == nil && m.Verdict == Possible:
		return "Probably not the same feature: your lines meet only outside the ± of your bearings. Take both bearings again."
	case m.Crossing == nil:
		return "Your lines do not cross, but they may cross within the ± of your bearings. If they do, the feature is far off."
	}
	c := m.Crossing
	text := fmt.Sprintf("You may mean the same feature: your lines cross at %s ± %s, %s from %s and %s from %s.", c.Ref, units.HalfM(c.Radius95M),
		c.awayWords(0), said[0].Who, c.awayWords(1), said[1].Who)
	if cut := min(m.Apart.Deg(), 180-m.Apart.Deg()); cut < narrowDeg {
		text += fmt.Sprintf(" They cross at only %.0f°, so the feature may lie much nearer or farther.", cut)
	}
	return text
}

// awayWords is how far the crossing is from one of the two, as well as that is known.
func (c *Crossing) awayWords(i int) string {
	step := math.Pow(10, float64(max(units.Place(c.Radius95M/2, 0), 0)))
	return units.Metres(math.Round(c.DistanceM[i]/step)*step, 0)
}

// whyNot says how two lines miss each other.
func (p *pair) whyNot(said [2]Sighting) string {
	along, ok := p.meet()
	switch {
	case !ok, along[0] < 0 && along[1] < 0, max(along[0], along[1]) > farthestM:
		return "your lines run apart"
	case along[0] < p.leastAway(0) && along[1] > 0:
		return "your lines cross behind " + said[0].Who
	case along[1] < p.leastAway(1) && along[0] > 0:
		return "your lines cross behind " + said[1].Who
	}
	return "your lines run apart"
}

// fitWords says which marks fit both.
func (m *Meeting) fitWords() string {
	var fit, may []string
	for _, b := range m.Fits {
		switch b.Verdict {
		case Likely:
			fit = append(fit, b.Name)
		case Possible:
			may = append(may, b.Name)
		}
	}
	switch {
	case len(m.Fits) == 0:
		return "There is nothing to compare yet: set marks, or click features on the sheet."
	case len(fit) == 1:
		return "Both bearings fit " + fit[0] + " best; a feature that has no mark may fit too."
	case len(fit) > 1:
		return "Both bearings fit " + counted(fit) + ": take a third to tell them apart."
	case len(may) > 0:
		return "None of these fits both bearings well; " + counted(may) + " could be the feature, but only just."
	}
	return "None of these fits both bearings."
}

// hiddenWords says from whom the ground hides the one that fits best.
func (m *Meeting) hiddenWords(said [2]Sighting) string {
	if len(m.Fits) == 0 || m.Fits[0].Verdict < Possible {
		return ""
	}
	if from := m.Fits[0].hiddenFrom(said); from != "" {
		return " According to the terrain, higher ground hides " + m.Fits[0].Name + " from " + from + "."
	}
	return ""
}

// hiddenFrom names those from whom the ground hides it, "" for neither.
func (b *Both) hiddenFrom(said [2]Sighting) string {
	switch b.Hidden {
	case [2]bool{true, true}:
		return "both"
	case [2]bool{true, false}:
		return said[0].Who
	case [2]bool{false, true}:
		return said[1].Who
	}
	return ""
}

// words says how a mark or feature fits each of the two.
func (b *Both) words(each [2]Candidate, said [2]Sighting) string {
	for i, c := range each {
		if c.Verdict == NoVerdict {
			return "for " + said[i].Who + " it " + c.Text
		}
	}
	hidden := b.hiddenFrom(said)
	if hidden != "" {
		hidden = ", but is hidden from " + hidden
	}
	switch {
	case b.Verdict == Likely:
		return "fits both" + hidden
	case b.Verdict == Possible:
		return "only just fits both" + hidden
	case b.Each[0] != Cannot:
		return "fits " + said[0].Who + ", but cannot be what " + said[1].Who + " sees"
	case b.Each[1] != Cannot:
		return "fits " + said[1].Who + ", but cannot be what " + said[0].Who + " sees"
	}
	return "fits neither"
}
