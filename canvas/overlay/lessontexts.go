package overlay

import (
	"image"
	"image/color"
	"slices"
	"strings"

	"legwright/app/plan"
	"legwright/app/units"
	"legwright/canvas/view"
)

const (
	letterSize = 17 // of a north's letter, device-independent pixels an em
	letterOff  = 14 // of its middle from the tip
	noteOff    = 34 // of the note's middle from that of a letter
	tipsApart  = 15 // nearer to each other, two tips share one text
	tipsGap    = 4  // and so do letters with less between them
)

// lessonTexts places the texts of a lesson: they come before all others.
func (d *drawing) lessonTexts() {
	l := &d.scene.Lesson
	if l.Empty() {
		return
	}
	d.northLetters()
	letters := slices.Clone(d.taken)
	d.keepOffNorths()
	before := len(d.texts)
	d.endNames(len(letters))
	d.nameFrom(before)
	d.lesson.norths = slices.Concat(letters, d.northNote())
	if l.Line != nil {
		d.beyondArc(l.Line)
	}
	for _, c := range l.Crossings {
		d.beside(c.Text, nameSize, true, black, d.v.ToScreen(c.At), 18)
	}
	for _, f := range l.Features {
		d.beside(f.Name, nameSize, true, black, d.v.ToScreen(f.At), 20)
	}
	for i := range l.Rays {
		d.rayText(&l.Rays[i])
	}
	for _, e := range l.Led {
		d.ledText(e)
	}
	for _, g := range l.Fan {
		d.beside(g.Label, controlSize, true, blue, d.v.ToScreen(g.To), 10)
	}
}

// ledText writes the lines of a label on that side of its ring where all of them are
// seen and cover neither a text nor the lines that they speak of, or else below it.
func (d *drawing) ledText(e Led) {
	at := d.v.ToScreen(e.To)
	if e.Label == "" || !d.sees(at, at) {
		return
	}
	var lines []words
	wide := 0.0
	for _, text := range strings.Split(e.Label, "\n") {
		w := words{text: text, size: controlSize * d.p.px, bold: true, ink: black}
		lines, wide = append(lines, w), max(wide, d.p.letters.width(w)/2)
	}
	off := 12 * d.p.px
	high := off + leading*controlSize*d.p.px*float64(len(lines))/2
	whole := func(mid view.ScreenPt) view.ScreenPt { return d.into(d.around(lines, mid), mid) }
	below := whole(at.Add(0, high))
	mids := []view.ScreenPt{at.Add(off+wide, 0), at.Add(-off-wide, 0), whole(at.Add(0, -high)), below}
	for _, far := range []float64{1, 2, 3} { // beyond what stands there
		x, y := off+wide, far*high
		mids = append(mids, whole(at.Add(x, y)), whole(at.Add(-x, y)), whole(at.Add(x, -y)), whole(at.Add(-x, -y)))
	}
	for _, mid := range mids {
		if r := d.around(lines, mid); r.In(d.seen) && !d.covers(r) && !d.crosses(e, r) {
			d.block(lines, mid)
			return
		}
	}
	d.block(lines, below)
}

// crosses reports whether a text would lie over the line that leads astray, over its ring
// or over the line of the lesson.
func (d *drawing) crosses(e Led, at image.Rectangle) bool {
	const samples = 48
	lines := [][2]view.PicPt{{e.From, e.To}}
	if l := d.scene.Lesson.Line; l != nil {
		lines = append(lines, [2]view.PicPt{l.From, l.To})
	}
	for _, l := range lines {
		a, b := d.v.ToScreen(l[0]), d.v.ToScreen(l[1])
		for i := range samples + 1 {
			f := float64(i) / samples
			if image.Pt(int(a.X+f*(b.X-a.X)), int(a.Y+f*(b.Y-a.Y))).In(at) {
				return true
			}
		}
	}
	return false
}

// leading is from one line of a text to the next, in ems.
const leading = 1.25

// block writes lines of text one below the other around a middle, however near another
// text stands.
func (d *drawing) block(lines []words, mid view.ScreenPt) {
	for i, w := range lines {
		d.letter(w, mid.Add(0, leading*w.size*(float64(i)-float64(len(lines)-1)/2)))
	}
}

// around is the room of such a block.
func (d *drawing) around(lines []words, mid view.ScreenPt) (r image.Rectangle) {
	for i, w := range lines {
		r = r.Union(d.p.letters.textImage(w).rect(mid.Add(0, leading*w.size*(float64(i)-float64(len(lines)-1)/2))))
	}
	return r
}

// covers reports whether a text would lie over another.
func (d *drawing) covers(at image.Rectangle) bool {
	return slices.ContainsFunc(d.taken, at.Overlaps)
}

// beyondArc writes along the line outside its arc, or along all of it where that is too
// short.
func (d *drawing) beyondArc(l *LessonLine) {
	a, b := d.v.ToScreen(l.From), d.v.ToScreen(l.To)
	if f := (d.lesson.ring + arcBarb*d.p.px) / a.Dist(b); f < 1 {
		a = view.ScreenPt{X: a.X + f*(b.X-a.X), Y: a.Y + f*(b.Y-a.Y)}
	}
	if l.Label != "" && d.sees(a, b) && !d.along(l.Label, a, b, vermillion) {
		d.lineText(l.Label, l.From, l.To, vermillion)
	}
}

// rayText writes along a ray, rather on its half that is nearer to where it begins: the
// far one is where features and crossings are. Where another text stands it is written
// nearer to either end or on the other side of the ray.
func (d *drawing) rayText(r *Ray) {
	n := len(r.line)
	if n == 0 || r.Label == "" {
		return
	}
	from, to, ok := d.onPicture(r.From, r.line[0], r.line[n-1])
	if !ok {
		return
	}
	a, b := d.v.ToScreen(from), d.v.ToScreen(to)
	half := view.ScreenPt{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	for _, end := range []view.ScreenPt{half, b} {
		if d.sees(a, end) && d.alongFree(words{text: r.Label, size: legSize * d.p.px, bold: true, ink: pick(r.Second, blue, vermillion)}, a, end) {
			return
		}
	}
}

// alongFree writes a text along a–b where no other stands, and reports whether there is
// such a part of the line. It is rather near the line than near its middle.
func (d *drawing) alongFree(w words, a, b view.ScreenPt) bool {
	width := d.p.letters.width(w)
	for _, in := range []image.Rectangle{d.seen, d.p.img.Rect} {
		for _, off := range []float64{lift, 2 * lift} {
			for _, back := range []float64{0, 0.5, -0.5, 1, -1, 1.5, -1.5, 2, -2} {
				for _, side := range []float64{off, -off} {
					mid, angle, ok := d.lineMid(a, b, width, back*width, side, in)
					if w.angle = angle; ok && d.put(w, mid) {
						return true
					}
				}
			}
		}
	}
	return false
}

// northLetters writes the letters of the norths at their tips; those of norths that lie
// together in one text. The note stands above them, or wherever it is seen whole.
func (d *drawing) northLetters() {
	n := &d.scene.Lesson.Norths
	var tips []northTip
	for _, l := range n.Lines {
		w := words{text: l.North.Letter(), size: letterSize * d.p.px, bold: true, ink: northInk(l.North)}
		tips = append(tips, d.tip(w, d.ahead(n.At, l.spread, (northLong+letterOff)*d.p.px)))
	}
	for _, t := range d.joined(tips) {
		d.letter(t.words, t.at)
	}
}

// northTip is a letter, or several, at the tips of north lines.
type northTip struct {
	words
	at view.ScreenPt
}

// tip is a text at a tip, moved so far that it is seen whole if the start of the lines is.
func (d *drawing) tip(w words, at view.ScreenPt) northTip {
	if d.isSeen(d.scene.Lesson.Norths.At) {
		at = d.kept(w, at)
	}
	return northTip{w, at}
}

// joined makes one text of those that lie together or over each other.
func (d *drawing) joined(tips []northTip) []northTip {
	for i, a := range tips {
		for j, b := range tips[:i] {
			if a.at.Dist(b.at) < tipsApart*d.p.px || d.letters(a.words, a.at).Inset(-int(tipsGap*d.p.px)).Overlaps(d.letters(b.words, b.at)) {
				w := b.words
				w.text, w.ink = b.text+" "+a.text, black
				tips = slices.Delete(slices.Clone(tips), i, i+1)
				tips[j] = d.tip(w, b.at)
				return d.joined(tips)
			}
		}
	}
	return tips
}

// isSeen reports whether a point of the picture is seen.
func (d *drawing) isSeen(p view.PicPt) bool {
	at := d.v.ToScreen(p)
	return image.Pt(int(at.X), int(at.Y)).In(d.seen)
}

// northRoom is how far other texts keep off a north line, and begin to from its start, in
// device-independent pixels.
const (
	northRoom = 4
	northFree = 16
)

// keepOffNorths keeps other texts off the north lines, but for where they begin: there
// stands the name of what they begin at.
func (d *drawing) keepOffNorths() {
	for _, l := range d.scene.Lesson.Norths.Lines {
		at, bend, tip := d.northAt(l)
		if l.toward == l.spread {
			bend = at
		}
		room := northRoom * d.p.px
		steps := int(bend.Dist(tip) / (2 * room))
		for i := range steps + 1 {
			f := float64(i) / float64(max(steps, 1))
			p := view.ScreenPt{X: bend.X + f*(tip.X-bend.X), Y: bend.Y + f*(tip.Y-bend.Y)}
			r := image.Rect(int(p.X-room), int(p.Y-room), int(p.X+room), int(p.Y+room))
			if p.Dist(at) > northFree*d.p.px && r.Overlaps(d.p.img.Rect) {
				d.taken = append(d.taken, r)
			}
		}
	}
}

// endNames writes the names of the marks at the line's ends before all others: off the
// north lines, or over them where there is no other room. letters is how many texts stand
// there already.
func (d *drawing) endNames(letters int) {
	l := d.scene.Lesson.Line
	if l == nil || d.scene.Faint {
		return
	}
	lines := len(d.taken)
	d.lesson.named = map[plan.ID]bool{}
	for _, m := range d.scene.Marks {
		if m.At.Dist(l.From) >= 1 && m.At.Dist(l.To) >= 1 {
			continue
		}
		d.lesson.named[m.ID] = true
		if d.nearBy(m, nameOff) {
			continue
		}
		all := d.taken
		d.taken = slices.Concat(all[:letters], all[lines:])
		n := len(d.taken)
		d.nearBy(m, nameOff, 2*nameOff, 4*nameOff)
		d.taken = append(all, d.taken[n:]...)
	}
}

// nearBy writes the name of a mark at the first distance at which there is room, and
// reports whether there was.
func (d *drawing) nearBy(m Mark, offs ...float64) bool {
	before := len(d.texts)
	for _, off := range offs {
		if d.markName(m, off); len(d.texts) > before {
			return true
		}
	}
	return false
}

// letter places a letter however near another text stands.
func (d *drawing) letter(w words, mid view.ScreenPt) {
	p := d.p.letters.textImage(w)
	if at := p.rect(mid); at.Overlaps(d.p.img.Rect) {
		d.p.letters.draw(p)
		d.taken, d.texts = append(d.taken, at), append(d.texts, textAt{p, at})
	}
}

// northNote writes by how much the norths are spread, above them or wherever near them
// it is seen whole, or else in a corner: over their letters nobody could tell them apart.
func (d *drawing) northNote() []image.Rectangle {
	n := &d.scene.Lesson.Norths
	if n.Note == "" || len(n.Lines) == 0 || !d.sees(d.v.ToScreen(n.At), d.v.ToScreen(n.At)) {
		return nil
	}
	w := words{text: n.Note, size: controlSize * d.p.px, bold: true, ink: black}
	at := d.v.ToScreen(n.At)
	above := d.ahead(n.At, n.Lines[0].toward, (northLong+letterOff+noteOff)*d.p.px)
	off := d.lesson.ring + letterOff*d.p.px
	mids := []view.ScreenPt{above, at.Add(0, off), at.Add(0, -off), at.Add(0, 1.5*off), at.Add(0, 2*off), at.Add(0, -2*off)}
	for _, mid := range append(mids, d.corners(w)...) {
		if r := d.p.letters.textImage(w).rect(mid); r.In(d.seen) && d.put(w, mid) {
			return d.taken[len(d.taken)-1:]
		}
	}
	d.letter(w, d.kept(w, above)) // it must be said, over whatever stands there
	return d.taken[len(d.taken)-1:]
}

// corners are the middles of a text that stands in a corner of what is seen.
func (d *drawing) corners(w words) []view.ScreenPt {
	low, high := float64(d.seen.Min.X), float64(d.seen.Max.X)
	top, foot := float64(d.seen.Min.Y), float64(d.seen.Max.Y)
	return []view.ScreenPt{
		d.kept(w, view.ScreenPt{X: low, Y: top}), d.kept(w, view.ScreenPt{X: high, Y: top}),
		d.kept(w, view.ScreenPt{X: low, Y: foot}), d.kept(w, view.ScreenPt{X: high, Y: foot}),
	}
}

// kept is a text's middle moved so far that the text is seen whole.
func (d *drawing) kept(w words, mid view.ScreenPt) view.ScreenPt {
	return d.into(d.p.letters.textImage(w).rect(mid), mid)
}

// into is the middle of what takes a room moved so far that it is seen whole.
func (d *drawing) into(r image.Rectangle, mid view.ScreenPt) view.ScreenPt {
	move := image.Pt(max(d.seen.Min.X-r.Min.X, 0)+min(d.seen.Max.X-r.Max.X, 0), max(d.seen.Min.Y-r.Min.Y, 0)+min(d.seen.Max.Y-r.Max.Y, 0))
	return mid.Add(float64(move.X), float64(move.Y))
}

func northInk(n units.North) color.NRGBA {
	if n == units.GridNorth {
		return green
	}
	return black
}
