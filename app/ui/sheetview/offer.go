package sheetview

import (
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/canvas/tool"
)

// offer is the bearing being dragged, and after the release the offer to keep it.
type offer struct {
	*sheet
	dial  *reading
	host  Host
	strip *Strip
	told  []func()

	on       bool // the button is released: the reading waits to be kept
	from, to plan.End
	read     leg.Reading
}

func newOffer(s *sheet, d *reading, host Host) *offer {
	o := &offer{sheet: s, dial: d, host: host}
	o.strip = newStrip(o.keepLeg, o.keepSight, o.discard)
	return o
}

// drag reads between two spots, and shows the reading on the dial and along the
// line.
func (o *offer) drag(from, to tool.Spot) {
	if o.on {
		o.withdraw()
	}
	o.from, o.to, o.read = plan.End{}, plan.End{}, leg.Reading{}
	if o.state == usable && o.readBetween(from, to) {
		c := o.circle()
		o.dial.show(o.read)
		o.area.SetLive(lineText(o.read, c), marked(o.read.SetFigure(c), o.read.Stopped()), from.At, to.At)
		return
	}
	o.area.SetLive("", "", from.At, to.At)
}

// readBetween reads between two spots. It reports false where nothing can be read,
// and where the drag has not left its start.
func (o *offer) readBetween(from, to tool.Spot) bool {
	f, err := o.EndAt(from)
	if err != nil {
		o.line.Fail(err)
		return false
	}
	t, err := o.EndAt(to)
	if err != nil {
		return false
	}
	r, err := o.s.LiveEnds(f, t)
	if err != nil {
		return false
	}
	o.from, o.to, o.read = f, t, r
	return true
}

// release offers to keep what the drag read last.
func (o *offer) release() {
	if o.from == o.to {
		o.discard()
		return
	}
	o.on = true
	o.strip.offer(stripTexts(o.read, o.circle()))
	o.tell()
}

// keepLeg keeps the offered reading as a leg.
func (o *offer) keepLeg() {
	o.keep(func(from, to plan.End) error { _, err := o.s.KeepLeg(from, to); return err }, "Kept as a leg.")
}

// keepSight keeps the offered reading as a sight.
func (o *offer) keepSight() {
	o.keep(func(from, to plan.End) error { _, err := o.s.KeepSight(from, to); return err }, "Kept as a sight.")
}

func (o *offer) keep(keep func(from, to plan.End) error, done string) {
	if !o.on {
		return
	}
	o.host.MayKeep(func() {
		if !o.on {
			return
		}
		from, to := o.from, o.to
		o.discard()
		o.line.Try(keep(from, to), done)
	})
}

// discard throws the reading away and shows the selected one again.
func (o *offer) discard() {
	o.area.ClearLive()
	o.withdraw()
	o.dial.showSelected()
}

// withdraw takes the offer away.
func (o *offer) withdraw() {
	was := o.on
	o.on, o.from, o.to, o.read = false, plan.End{}, plan.End{}, leg.Reading{}
	if was {
		o.strip.Hide()
		o.tell()
	}
}

func (o *offer) tell() {
	for _, f := range o.told {
		f()
	}
}
