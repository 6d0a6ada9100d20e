package routepanel

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/caution"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
	"legwright/canvas/view"
)

// walk shows the profile of the whole route. The arrow keys walk it leg by leg, and the
// leg is lit on the sheet.
type walk struct {
	n         *Needs
	finder    *finder
	body      fyne.CanvasObject
	words     *widgets.Sentence
	cautions  *fyne.Container
	picture   *profilePicture
	concealed bool
}

func newWalk(n *Needs, f *finder) *walk {
	w := &walk{n: n, finder: f, words: widgets.NewSentence("", widgets.Note), cautions: container.NewVBox()}
	w.picture = newProfilePicture(w.choose, n.View.Focus, n.Foot.Hint)
	scroll := inset(n, container.NewVBox(w.picture, w.words, w.cautions))
	scroll.SetMinSize(fyne.NewSize(0, profileHigh+wordsHigh)) // a low window scrolls the panel, not the picture out of sight
	w.body = scroll
	return w
}

// wordsHigh is the room of three lines of words, in units of the window.
const wordsHigh = float32(64)

// fill shows the route as it is.
func (w *walk) fill() {
	rows := w.n.Session.Reader().Legs()
	chosen := w.n.Session.Plan().LegIndex(w.n.Session.Selection().ID)
	w.cautions.RemoveAll()
	if w.concealed {
		w.words.Set(hiddenHint, widgets.Note)
		w.picture.show(nil, -1)
		return
	}
	w.words.Set(w.says(rows, chosen), widgets.Note)
	if w.picture.Show(); len(rows) == 0 {
		w.picture.Hide() // its room would push the words out of a low window
	}
	w.picture.show(rows, chosen)
	if text := gapWords(rows); text != "" {
		w.cautions.Add(widgets.NewSentence(text, widgets.Caution))
	}
	if chosen >= 0 {
		for _, c := range rows[chosen].HeightCautions {
			if c.Code != caution.NoTerrain && c.Code != caution.BlindTerrain { // said of the whole route
				w.cautions.Add(widgets.NewSentence(c.Text(), widgets.Caution))
			}
		}
	}
	for _, c := range w.n.Session.Reader().GroundCautions() {
		w.cautions.Add(widgets.NewSentence(c.Text(), widgets.Note))
	}
}

// says puts the chosen leg into words, or what to do.
func (w *walk) says(rows []leg.Row, chosen int) string {
	switch {
	case len(rows) == 0:
		return "No legs yet. Keep a leg to see its profile here."
	case len(w.n.Session.Plan().Terrain) == 0:
		return "The plan has no terrain. To open some: File → Open terrain…"
	case w.n.Session.Reader().Model() == nil:
		return "The plan's terrain files have not been read, so the heights along the route are not known. To open them: File → Open terrain…"
	case chosen < 0:
		return "Click here, then go along the route leg by leg with the arrow keys Left and Right."
	}
	r := rows[chosen]
	if r.Err != nil {
		return fmt.Sprintf("Leg %d has no reading.", chosen+1)
	}
	words := fmt.Sprintf("Leg %d, %s to %s: %.0f m", chosen+1, r.From, r.To, r.Reading.GroundM)
	if r.ClimbKnown() {
		words += fmt.Sprintf(", climbs %.0f m, descends %.0f m", r.Climb.M, r.Descent.M)
	}
	if low, high, ok := r.Profile.Extremes(); ok {
		words += fmt.Sprintf(", between %.0f m and %.0f m high", r.Profile.Points[low].HeightM, r.Profile.Points[high].HeightM)
	}
	return words + "."
}

// gapWords say under which legs terrain has no height, wholly or in part; "" if it has all or
// none was read.
func gapWords(rows []leg.Row) string {
	var none, part []string
	for i, r := range rows {
		_, _, some := r.Profile.Extremes()
		switch {
		case r.Err != nil || r.Profile.Whole():
		case some:
			part = append(part, fmt.Sprint(i+1))
		default:
			none = append(none, fmt.Sprint(i+1))
		}
	}
	var says []string
	for _, x := range []struct {
		where string
		legs  []string
	}{{"under", none}, {"under part of", part}} {
		if len(x.legs) > 0 {
			leg, last := " leg ", len(x.legs)-1
			if last > 0 {
				leg = " legs " + strings.Join(x.legs[:last], ", ") + " and "
			}
			says = append(says, x.where+leg+x.legs[last])
		}
	}
	if len(says) == 0 || len(none) == len(rows) {
		return ""
	}
	return "Hatched: the terrain has no heights " + strings.Join(says, ", or ") + ". Count contours there."
}

// choose selects a leg and brings it into sight on the sheet.
func (w *walk) choose(id plan.ID) {
	w.n.Session.Select(id)
	w.inSight() // the dial may have got its first reading, and more room
	seen, _ := w.n.Session.Sheet()
	inside := w.n.View.Area().View().Visible()
	for _, pos := range w.n.Session.PositionsOf(id) {
		if at, on := w.finder.on(seen, pos); !on || !holds(inside, at) {
			w.finder.find(id)
			return
		}
	}
}

// inSight scrolls a low window's panel until the picture is seen.
func (w *walk) inSight() {
	if outer := w.n.Outer(); outer != nil {
		outer.Refresh()
		widgets.Reveal(outer, w.body)
	}
}

// holds reports whether a point lies in a rectangle.
func holds(r view.Rect, p view.PicPt) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}
