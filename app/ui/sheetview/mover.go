package sheetview

import (
	"legwright/canvas/tool"
)

// mover lets a mark, an end or a control point follow the pointer. The whole drag
// is one step of undo.
type mover struct {
	*sheet
	on bool
}

// drag moves a thing to where the pointer is; done says that it was released.
func (m *mover) drag(what, to tool.Spot, done bool) {
	if !m.on {
		m.on = true
		m.s.BeginDrag()
	}
	err := m.moveTo(what, to)
	if done {
		m.on = false
		m.s.EndDrag()
	}
	m.line.Fail(err)
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
