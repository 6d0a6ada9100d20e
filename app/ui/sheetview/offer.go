package sheetview

import (
	"strings"

	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/ui/widgets"
	"legwright/canvas/tool"
	"legwright/canvas/view"
)

// Offer is the bearing being dragged, and after the release the offer to keep it.
type Offer struct {
	*sheet
	dial  *reading
	host  Host
	strip *Strip
	told  []func()

	on       bool // the button is released: the reading waits to be kept
	from, to plan.End
	read     leg.Reading
	drawn    [2]view.PicPt // between which the line is drawn
}

func newOffer(s *sheet, d *reading, host Host) *Offer {
	o := &Offer{sheet: s, dial: d, host: host}
	o.strip = newStrip(o.KeepLeg, o.KeepSight, o.KeepEscape, o.discard)
	return o
}

// On reports whether a reading waits to be kept.
func (o *Offer) On() bool { return o.on }

// Ends are where the reading that waits goes from and to.
func (o *Offer) Ends() (from, to plan.End) { return o.from, o.to }

// Reading is the one that waits; without one it is zero.
func (o *Offer) Reading() leg.Reading {
	if !o.on {
		return leg.Reading{}
	}
	return o.read
}

// OnChange adds a function to be called after a reading was offered, kept or
// discarded.
func (o *Offer) OnChange(f func()) { o.told = append(o.told, f) }

// drag reads between two spots, and shows the reading on the dial and along the
// line.
func (o *Offer) drag(from, to tool.Spot) {
	if o.on {
		o.withdraw()
	}
	o.from, o.to, o.read = plan.End{}, plan.End{}, leg.Reading{}
	o.drawn = [2]view.PicPt{from.At, to.At}
	if o.state == usable && o.readBetween(from, to) {
		o.dial.show(o.read)
	} else {
		o.dial.keeps.follow(nil)
	}
	o.drawLine()
}

// drawLine draws the line with its figures, if there are any and they are not hidden.
func (o *Offer) drawLine() {
	text, set := "", ""
	if c := o.circle(); o.from != o.to && !o.concealed {
		_, asSight := o.dial.lead(o.read)
		text, set = lineText(o.read, c), marked(o.read.SetFigure(c), o.read.Stopped() && !asSight)
	}
	o.area.SetLive(text, set, o.drawn[0], o.drawn[1])
}

// show writes again what is seen of the line being dragged or offered.
func (o *Offer) show() {
	if o.drawn == [2]view.PicPt{} {
		return
	}
	o.drawLine()
	if o.on {
		o.strip.offer(o.texts(), o.GoesOff())
	}
}

// texts are what the strip says of the reading, from long to short.
func (o *Offer) texts() []string {
	if o.concealed {
		return []string{hiddenFigures, ""}
	}
	lead, _ := o.dial.lead(o.read)
	return stripTexts(o.read, o.s.Plan().Party.Compass, o.endWords(), lead)
}

// readBetween reads between two spots. It reports false where nothing can be read,
// and where the drag has not left its start.
func (o *Offer) readBetween(from, to tool.Spot) bool {
	f, err := o.endAt(from)
	if err != nil {
		o.line.Fail(err)
		return false
	}
	t, err := o.endAt(to)
	if err != nil {
		return false
	}
	r, err := o.dial.walk(f, t)
	if err != nil {
		return false
	}
	o.from, o.to, o.read = f, t, r
	return true
}

// release offers to keep what the drag read last, up to a point of the picture.
func (o *Offer) release(at view.PicPt) {
	if o.from == o.to {
		o.discard()
		return
	}
	o.on = true
	o.read = o.dial.settle(o.read, o.from, o.to)
	o.strip.end = o.inArea(at)
	o.show()
	o.tell()
}

// Again shows what is offered, or else the selected reading, anew: what the panel makes
// of readings has changed.
func (o *Offer) Again() {
	if !o.on {
		o.dial.showSelected()
		return
	}
	r, err := o.dial.walk(o.from, o.to)
	if err != nil {
		o.discard()
		return
	}
	o.read = o.dial.settle(r, o.from, o.to)
	o.show()
	o.tell() // the strip may need another width
}

// endWords name the end of the reading: the mark that it stands on, and its reference.
func (o *Offer) endWords() string {
	if m, ok := o.s.Plan().MarkByID(o.to.Mark); ok {
		return strings.TrimSuffix(widgets.CutMiddle(m.Name, mostMarkName)+", "+o.read.ToRef, ", ")
	}
	return o.read.ToRef
}

// mostMarkName is how many letters of a mark's name the strip has room for.
const mostMarkName = 24

// KeepLeg keeps the offered reading as a leg.
func (o *Offer) KeepLeg() {
	o.keep(func(from, to plan.End) error { _, err := o.s.KeepLeg(from, to); return err }, "Kept as a leg.")
}

// KeepSight keeps the offered reading as a sight.
func (o *Offer) KeepSight() {
	o.keep(func(from, to plan.End) error { _, err := o.s.KeepSight(from, to); return err }, "Kept as a sight.")
}

// GoesOff reports whether the offered reading can be kept as a leg of an escape.
func (o *Offer) GoesOff() bool { return o.on && o.s.GoesOff(o.from) }

// KeepEscape keeps the offered reading as a leg of an escape.
func (o *Offer) KeepEscape() {
	if o.on && !o.GoesOff() {
		o.line.Say("An escape begins at a mark that is recognisable in cloud, or continues from the end of another escape.")
		return
	}
	o.keep(func(from, to plan.End) error { _, err := o.s.KeepEscape(from, to, ""); return err },
		"Kept as an escape. If it does not reach a haven yet, drag on from its end.")
}

func (o *Offer) keep(keep func(from, to plan.End) error, done string) {
	if !o.on {
		return
	}
	o.host.MayKeep(func() {
		if !o.on {
			return
		}
		from, to := o.from, o.to
		o.drawn = [2]view.PicPt{}
		o.withdraw()
		o.dial.showSelected()
		o.line.Try(keep(from, to), done)
		o.area.ReleaseLive()
	})
}

// discard throws the reading away and shows the selected one again.
func (o *Offer) discard() {
	o.area.ClearLive()
	o.drawn = [2]view.PicPt{}
	o.withdraw()
	o.dial.showSelected()
}

// withdraw takes the offer away.
func (o *Offer) withdraw() {
	was := o.on
	o.on, o.from, o.to, o.read = false, plan.End{}, plan.End{}, leg.Reading{}
	o.dial.keeps.follow(nil)
	if was {
		o.strip.Hide()
		o.tell()
	}
}

func (o *Offer) tell() {
	for _, f := range o.told {
		f()
	}
}

// showSelected writes the selected leg or sight onto the dial, unless a reading
// waits to be kept.
func (o *Offer) showSelected() {
	if !o.on {
		o.dial.showSelected()
	}
}
