package mapview

import (
	"legwright/canvas/tool"
)

// carry carries out the machine's intents: pans are done here, everything
// else goes to the owner.
//
// What moves with the hand is placed once, after all callbacks.
func (m *MapView) carry(intents []tool.Intent) {
	m.carrying = true
	for _, i := range intents {
		switch i.Act {
		case tool.PanBy:
			m.setView(m.view.PanBy(i.DX, i.DY))
		case tool.Hover:
			if m.cb.OnHover != nil {
				m.cb.OnHover(m.exact(i.To), true)
			}
		case tool.Secondary:
			if m.cb.OnSecondary != nil {
				m.cb.OnSecondary(m.exact(i.To), m.input.abs)
			}
		case tool.Click, tool.DoubleClick:
			if m.cb.OnClick != nil {
				m.cb.OnClick(m.exact(i.To), i.Act == tool.DoubleClick)
			}
		case tool.Cancelled:
			m.ClearLive()
			if m.cb.OnCancel != nil {
				m.cb.OnCancel()
			}
		default:
			m.carryDrag(i)
		}
	}
	m.carrying = false
	m.placeLive()
}

// carryDrag tells of bearings and things being dragged. The line is drawn at
// once; its figures come with SetLive from the owner.
func (m *MapView) carryDrag(i tool.Intent) {
	from, to := m.exact(i.From), m.exact(i.To)
	switch i.Act {
	case tool.Live:
		m.live.line(from.At, to.At)
		if m.cb.OnLive != nil {
			m.cb.OnLive(from, to)
		}
	case tool.Offer:
		if m.cb.OnRelease != nil {
			m.cb.OnRelease(from, to)
		}
	case tool.Moving, tool.Moved:
		if m.cb.OnMove != nil {
			m.cb.OnMove(from, to, i.Act == tool.Moved)
		}
	}
}
