package sheetview

import (
	"legwright/canvas/tool"
)

// mover lets a mark, an end or a control point follow the pointer. The whole drag
// is one step of undo.
type mover struct {
	*sheet
	on bool
	to tool.Spot // where it was moved last
}

// drag moves a thing to where the pointer is; done says that it was released.
func (m *mover) drag(what, to tool.Spot, done bool) {
	if !m.on {
		m.on, m.to = true, tool.Spot{}
		m.s.BeginDrag()
	}
	if to != m.to { // the release is where the last move was
		m.to = to
		m.line.Fail(m.moveTo(what, to))
	}
	if done {
		m.on = false
		m.s.EndDrag()
	}
}

// cancel returns the thing to where it was.
func (m *mover) cancel() {
	if m.on {
		m.on = false
		m.s.CancelDrag()
	}
}

func (m *mover) moveTo(what, to tool.Spot) error {
	if what.Target.Part == tool.Control {
		return m.s.MoveControlPoint(what.Target.Index, PicturePt(to.At))
	}
	end, err := m.endAt(to)
	if err == nil && to.Target.Part == tool.Nothing {
		_, err = m.positionAt(to.At)
	}
	if err != nil {
		return err
	}
	return m.s.MovePoint(what.Target.ID, what.Target.Index, end)
}
