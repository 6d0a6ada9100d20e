package teach

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/units"
)

// noReadingWords says why there is no bearing to a feature.
func noReadingWords(err error) string {
	if errors.Is(err, leg.ErrNoBearing) {
		return "is where you stand: no bearing leads there"
	}
	return "cannot be compared: " + strings.TrimSuffix(err.Error(), ".")
}

// words is what a coach says of a feature that has a bearing.
func (l *Lookout) words(s *seen, c *Candidate, a *Answer) string {
	if near := tooNear(s.reading, l.circle); near != "" && !stopsBut(c.Cautions, caution.VagueBearing) {
		return near
	}
	turn := printedTurn(c.Bearing, a.Bearing.Angle, l.circle)
	text := "bears " + a.Bearing.North.Figure(l.circle, c.Bearing) + ", " + sideWords(turn, l.circle)
	switch {
	case a.Stopped:
		return text + ": no verdict, " + caution.Lead(a.Cautions, caution.OnLeg)
	case c.Verdict == NoVerdict:
		return text + ": no verdict, " + caution.Lead(c.Cautions, caution.OnLeg)
	case c.Verdict == Cannot:
		return text + ": " + cannotWords(a.Bearing.Angle, c.Bearing, c.Off)
	case c.Verdict == Possible:
		text += ": a little outside " + half(c.Half, l.circle) + ", so take the bearing again"
	default:
		text += ": it fits"
	}
	return joinCover(text, c) + togetherWords(c)
}

// togetherWords names what else is at the same place, which no bearing can tell apart.
func togetherWords(c *Candidate) string {
	switch len(c.Together) {
	case 0:
		return ""
	case 1:
		return "; " + c.Together[0] + " is at the same position"
	}
	return "; " + list(c.Together) + " are at the same position"
}

// joinCover adds to words on a feature that the ground hides it.
func joinCover(text string, c *Candidate) string {
	if words := coverWords(c.Cover, c.CoverM); words != "" {
		return text + ", " + words
	}
	return text
}

// bearsWords is what a coach says of a feature while no ray is there to compare with.
func (l *Lookout) bearsWords(s *seen, c *Candidate, north units.North) string {
	if near := tooNear(s.reading, l.circle); near != "" && !stopsBut(c.Cautions, caution.VagueBearing) {
		return near
	}
	text := "bears " + north.Figure(l.circle, c.Bearing) + ", " + units.Metres(c.DistanceM, c.DistanceSigmaM) + " away"
	if lead := caution.Lead(c.Cautions, caution.OnLeg); lead != "" {
		text += ": " + lead
	}
	return joinCover(text, c)
}

// tooNear says that a feature is so near that its bearing means nothing, or "".
func tooNear(r leg.Reading, circle units.Circle) string {
	if !r.Has(caution.VagueBearing) {
		return ""
	}
	if r.GroundM < 2*r.DistanceSigmaM || r.BearingSigma.Deg() > 45 {
		return fmt.Sprintf("is %s from you, and the positions may be wrong by as much: its bearing means nothing", units.Metres(r.GroundM, r.DistanceSigmaM))
	}
	return fmt.Sprintf("is so near (%s) that its bearing is only known to %s: no verdict", units.Metres(r.GroundM, r.DistanceSigmaM), half(2*max(r.BearingSigma, r.MagneticSigma), circle))
}

// half writes a ± of 95 %, rounded up to the circle's step.
func half(a units.Angle, c units.Circle) string {
	if text := c.Half(a / 2); text != "" {
		return text
	}
	return "± " + c.Amount(c.Step())
}

// sideWords says on which side of the ray something lies.
func sideWords(turn units.Angle, c units.Circle) string {
	size := c.Amount(turn)
	switch {
	case turn == 0:
		return "on your bearing"
	case math.Abs(turn.Deg()) > 180-tiny:
		return "exactly behind you"
	case turn < 0:
		return size + " left of your bearing"
	}
	return size + " right of your bearing"
}

// muchDeg is from where a feature is not merely off the ray but far off.
const muchDeg = 25

// cannotWords says why a feature cannot be meant, by the cardinal direction that it is
// nearest to.
func cannotWords(ray, bearing, off units.Angle) string {
	turn := math.Abs(off.Deg())
	if turn > 180-asGood {
		return "it cannot be the feature you see"
	}
	if turn > nearlyBackDeg {
		return "nearly behind you, so it cannot be the feature you see"
	}
	much := ""
	if turn > muchDeg {
		much = "much "
	}
	nearest := int(math.Round(bearing.Turn().Deg() / 90))
	from := func(a units.Angle) float64 {
		return math.Abs((a - units.Degrees(float64(nearest)*90)).Signed().Deg())
	}
	if from(bearing) < from(ray) {
		return much + "too near " + cardinal(nearest) + " to be the feature you see"
	}
	return much + "too far from " + cardinal(nearest) + " to be the feature you see"
}

// list writes names as a list.
func list(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// say sums an answer up.
func (a *Answer) say() {
	a.sum()
	if !a.Stopped {
		a.Text += hiddenWords(append(a.of(Likely), a.of(Possible)...))
	}
}

// sum says what fits and what does not.
func (a *Answer) sum() {
	switch likely, possible := a.of(Likely), a.of(Possible); {
	case a.Stopped:
		a.Text = caution.Lead(a.Cautions, caution.OnLeg) + ". Nothing can be judged."
	case len(a.Candidates) == 0:
		a.Text = "There is nothing to compare yet: set marks, or click features on the sheet."
	case len(likely) == 1 && len(possible) > 0:
		a.Text = capital(likely[0].Name) + " fits best, but " + counted(names(possible)) + " could be the feature too. Take another bearing from elsewhere."
	case len(likely) == 1:
		a.Text = "Of these only " + likely[0].Name + " fits. A feature that has no mark may fit too."
	case len(likely) > 1:
		a.Text = capital(counted(names(likely))) + " fit: this bearing cannot tell them apart. Take another from elsewhere."
	case likelier(possible):
		a.Text = comeNearest(names(possible)) + ", a little outside the ± of your bearing. Take the bearing again."
	case len(possible) > 0:
		a.Text = "Nothing fits well; " + counted(names(possible)) + " could be the feature, but only just. Take the bearing again."
	default:
		a.Text = a.noneWords()
	}
}

// likelier reports whether the listed are likelier together than everything else.
func likelier(list []Candidate) bool {
	sum := 0.0
	for _, c := range list {
		sum += c.Chance
	}
	return sum > 0.5
}

// comeNearest says what comes nearest: "Cairn comes nearest".
func comeNearest(all []string) string {
	verb := " comes nearest"
	if len(all) > 1 {
		verb = " come nearest"
	}
	return capital(counted(all)) + verb
}

// noneWords says that nothing lies on the ray, and what lies on its other end.
func (a *Answer) noneWords() string {
	text := "None of these lies on your bearing."
	if !slices.ContainsFunc(a.Candidates, func(c Candidate) bool { return c.Verdict == Cannot }) {
		return "None of these can be judged. Click one to see why."
	}
	for _, c := range a.Candidates {
		back := math.Pi - math.Abs(c.Off.Rad())
		if c.Verdict == Cannot && back <= c.Half.Rad() {
			return text + " " + capital(c.Name) + " is in the opposite direction: did you read the wrong end of the needle?"
		}
	}
	return text
}

func (a *Answer) of(v Verdict) []Candidate {
	var out []Candidate
	for _, c := range a.Candidates {
		if c.Verdict == v {
			out = append(out, c)
		}
	}
	return out
}

func names(list []Candidate) []string {
	var out []string
	for _, c := range list {
		out = append(out, c.Name)
	}
	return out
}

// mostNamed is how many names a sentence takes.
const mostNamed = 3

// counted writes names, or from four on the first two and how many more.
func counted(all []string) string {
	if len(all) > mostNamed {
		return fmt.Sprintf("%s, %s and %d more", all[0], all[1], len(all)-2)
	}
	return list(all)
}

// capital begins a sentence with a capital.
func capital(text string) string {
	r := []rune(text)
	if len(r) == 0 {
		return text
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
