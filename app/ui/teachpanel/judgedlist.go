package teachpanel

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/teach"
	"legwright/app/ui/widgets"
	"legwright/app/units"
)

// judgedList lists marks and features, the likeliest first. Its rows are kept while the
// dial turns: only what they say changes.
type judgedList struct {
	n        *Needs
	body     *fyne.Container
	rows     *fyne.Container
	more     *widgets.Tool
	texts    []judgedText
	all      bool // and not the first few alone
	onChoose func(key string)
	onRemove func(key string)
}

// fewRows is how many are listed unasked, and mostRows how many at all.
const (
	fewRows  = 8
	mostRows = 60
)

func newJudgedList(n *Needs, st *stage, choose, remove func(key string)) *judgedList {
	l := &judgedList{n: n, rows: container.NewVBox(), onChoose: choose, onRemove: remove}
	l.more = st.button("", "", "Show all, or only the first few", func() {
		l.all = !l.all
		l.set(l.texts)
	})
	l.body = container.NewVBox(l.rows, container.NewHBox(l.more))
	return l
}

// set lists other texts.
func (l *judgedList) set(texts []judgedText) {
	l.texts = texts
	n := len(texts)
	if n > fewRows+1 && !l.all {
		n = fewRows
	}
	n = min(n, mostRows)
	for len(l.rows.Objects) < n {
		l.rows.Add(newJudgedRow(l))
	}
	for i, o := range l.rows.Objects {
		if visible(o, i < n); i < n {
			o.(*judgedRow).set(texts[i])
		}
	}
	visible(l.more, len(texts) > fewRows+1)
	switch {
	case !l.all:
		l.more.SetText(fmt.Sprintf("List %d more", min(len(texts), mostRows)-n))
	default:
		l.more.SetText("List the first few")
	}
}

// choose chooses what a row speaks of.
func (l *judgedList) choose(key string) {
	if key != "" {
		l.onChoose(key)
	}
}

// remove takes a feature that is not a mark out of the list.
func (l *judgedList) remove(key string) { l.onRemove(key) }

// leave gives the keys back to the sheet.
func (l *judgedList) leave() { l.n.View.Focus() }

// step goes so many rows on from a row, and chooses what stands there.
func (l *judgedList) step(from *judgedRow, by int) {
	for i, o := range l.rows.Objects {
		to := i + by
		if o != from || to < 0 || to >= len(l.rows.Objects) || !l.rows.Objects[to].Visible() {
			continue
		}
		if c := fyne.CurrentApp().Driver().CanvasForObject(l.rows); c != nil {
			c.Focus(l.rows.Objects[to].(*judgedRow))
		}
		l.choose(l.rows.Objects[to].(*judgedRow).text.key)
		return
	}
}

// walk chooses what stands so many rows on from what is chosen: the keys of a presenter
// go through the list.
func (l *judgedList) walk(chosen string, by int) {
	at := slices.IndexFunc(l.texts, func(t judgedText) bool { return t.key == chosen && t.key != "" })
	switch {
	case at < 0 && by < 0, len(l.texts) == 0:
		return
	case at < 0:
		at = -1
	}
	if to := at + by; to >= 0 && to < len(l.texts) && l.texts[to].key != "" {
		l.choose(l.texts[to].key)
	}
}

// keyOf is what a candidate is found again by: the ID of a mark, or the name of a feature
// that is none.
func keyOf(c teach.Candidate) string {
	if c.ID != "" {
		return string(c.ID)
	}
	return featureKey + c.Name
}

// featureKey begins the keys of features that are not marks. No ID begins so.
const featureKey = "feature: "

// judgedTexts are the rows of what was judged by a ray, with none of them at the end.
func judgedTexts(a teach.Answer, chosen string, c units.Circle) []judgedText {
	var out []judgedText
	for _, k := range a.Candidates {
		t := rowOf(k, chosen)
		if k.Verdict != teach.NoVerdict {
			t.figure = percent(k.Chance)
			t.note = k.Verdict.String() + " · " + side(k.Off, c) + " · " + units.Metres(k.DistanceM, k.DistanceSigmaM) + hiddenNote(k)
		}
		out = append(out, t)
	}
	if len(out) > 0 && !a.Stopped {
		out = append(out, judgedText{name: "none of these", figure: percent(a.None), note: "something that is not in this list"})
	}
	return out
}

// hiddenNote says in a row that the ground hides a feature.
func hiddenNote(k teach.Candidate) string {
	if k.Cover == teach.Covered {
		return " · hidden"
	}
	return ""
}

// lookedTexts are the rows of what lies round a position, while there is no ray.
func lookedTexts(list []teach.Candidate, north units.North, chosen string, c units.Circle) []judgedText {
	var out []judgedText
	for _, k := range list {
		t := rowOf(k, chosen)
		if k.DistanceM > 0 {
			t.figure = north.Figure(c, k.Bearing)
			t.note = units.Metres(k.DistanceM, k.DistanceSigmaM) + hiddenNote(k)
		}
		out = append(out, t)
	}
	return out
}

// rowOf is the row of a candidate that has no verdict.
func rowOf(k teach.Candidate, chosen string) judgedText {
	t := judgedText{key: keyOf(k), name: k.Name, verdict: k.Verdict, chosen: keyOf(k) == chosen}
	switch lead := stopWords(k.Cautions); {
	case k.Here:
		t.note = "where you stand"
	case lead != "":
		t.note, t.stopped = lead, true
	case k.DistanceM == 0:
		t.note = "cannot be compared"
	default:
		t.note = k.Verdict.String()
	}
	return t
}

// side says how far off the ray something is.
func side(off units.Angle, c units.Circle) string {
	switch {
	case math.Abs(off.Rad()) < c.Step().Rad()/2:
		return "on the bearing"
	case off < 0:
		return c.Amount(off) + " left"
	}
	return c.Amount(off) + " right"
}

// percent writes a chance.
func percent(p float64) string {
	switch {
	case p < 0.005:
		return "under 1 %"
	case p > 0.995:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}
