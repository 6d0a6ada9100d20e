package projector

import "fyne.io/fyne/v2"

// Note is what names the keys at first.
func (p *Projector) Note() fyne.CanvasObject { return p.room.note }
