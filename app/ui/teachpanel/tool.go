package teachpanel

import (
	"fyne.io/fyne/v2"

	"legwright/app/ui/sheetview"
	"legwright/canvas/tool"
)

// toolOf is what a job makes of the sheet, with the keys that walk through the lines. A
// drag of a bearing makes a line of the lesson unless the job has another use for it.
func (p *Panel) toolOf(s section) sheetview.Tool {
	t := s.tool()
	t.Shown = p.stage.trained
	own := t.Key
	t.Key = func(e *fyne.KeyEvent) bool { return own != nil && own(e) || p.Key(e) }
	if p.makesLines(t) {
		t.Drag = p.stage.drag
	}
	return t
}

// makesLines reports whether dragging makes a line of the lesson.
func (p *Panel) makesLines(t sheetview.Tool) bool { return t.Drag == nil && t.Kind == tool.Sight }

// changeTool gives the sheet to the job that is seen. A line that was drawn with the same
// tool stays.
func (p *Panel) changeTool(was section) {
	if before, now := was.tool(), p.seen().tool(); !p.plain(before) || !p.plain(now) {
		p.n.View.SetTool(p.Tool())
	}
}

// plain reports whether a job wants nothing of the sheet but lines.
func (p *Panel) plain(t sheetview.Tool) bool {
	return p.makesLines(t) && t.Click == nil && t.Accept == nil && t.Key == nil
}
