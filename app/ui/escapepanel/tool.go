package escapepanel

import (
	"legwright/app/ui/sheetview"
	"legwright/canvas/tool"
)

// Tool is what the panel makes of the sheet while it is in front.
func (p *Panel) Tool() sheetview.Tool {
	if p.draw.on() {
		return p.draw.tool()
	}
	switch p.seen {
	case Marks:
		return sheetview.Tool{Kind: tool.Sight, Off: true}
	case Escapes:
		return sheetview.Tool{Kind: tool.Sight, Click: p.waysOff().click, Off: true}
	}
	return sheetview.Tool{Kind: tool.Shape, Click: p.vertex.click}
}

// toolChanged gives the sheet to the drawer, or takes it back.
func (p *Panel) toolChanged() {
	if p.front {
		p.n.View.SetTool(p.Tool())
	}
	p.ShowHint()
}
