package projector

import (
	"time"

	"fyne.io/fyne/v2"

	"legwright/app/session"
	"legwright/app/teach"
	"legwright/app/ui/look"
	"legwright/canvas/mapview"
	"legwright/canvas/pyramid"
)

// Needs is what the room is made from.
type Needs struct {
	App     fyne.App
	Bench   fyne.Window // the coach's window
	Session *session.Session
	Lesson  *teach.Lesson
	Later   func(func()) // runs a function on the main thread

	// After runs a function on the main thread when so much time has passed; nil is by the
	// clock.
	After func(time.Duration, func())
}

// Projector is the window for the group, open or not. Make it with New. All methods
// belong to the main thread.
type Projector struct {
	n       *Needs
	picture *pyramid.Pyramid
	preview bool
	turn    float64 // of the sheet, radians clockwise from upright
	shares  *shares
	watch   []func()

	window fyne.Window // nil while it is closed
	root   *fyne.Container
	room   *room
	sheet  *sheet
	board  *Board
}

// New returns the room with its window closed.
func New(n Needs) *Projector {
	if n.After == nil {
		n.After = func(d time.Duration, f func()) { time.AfterFunc(d, func() { n.Later(f) }) }
	}
	p := &Projector{n: &n, shares: &shares{usualWide, compassWide}}
	n.Lesson.OnChange(func() {
		p.follow()
		p.hideNote() // whoever began the lesson needs it no more
	})
	n.Session.OnChange(func(c session.Change) {
		if c.What.Has(session.Readings | session.AnySheet) {
			p.follow()
		}
	})
	return p
}

// OnChange adds a function to be called when the window opens or closes.
func (p *Projector) OnChange(f func()) { p.watch = append(p.watch, f) }

func (p *Projector) tell() {
	for _, f := range p.watch {
		f()
	}
}

// IsOpen reports whether the window is there.
func (p *Projector) IsOpen() bool { return p.window != nil }

// Window returns the window, nil while it is closed.
func (p *Projector) Window() fyne.Window { return p.window }

// Board returns what stands beside the sheet, nil while the window is closed.
func (p *Projector) Board() *Board { return p.board }

// Area returns the map area, nil while the window is closed.
func (p *Projector) Area() *mapview.MapView {
	if !p.IsOpen() {
		return nil
	}
	return p.sheet.area
}

// Open shows the window: full, on the screen on which the bench is not, or over the bench
// where there is one screen. An open one comes to the front.
func (p *Projector) Open() {
	if p.IsOpen() {
		p.window.RequestFocus()
		return
	}
	p.window = p.n.App.NewWindow(look.WindowClass)
	p.build()
	p.window.SetCloseIntercept(p.Close)
	p.window.Resize(fyne.NewSize(1280, 800))
	p.showPicture()
	p.follow()
	p.showFull()
	p.tell()
}

// Close closes the window. The bench must do so before it closes the picture.
func (p *Projector) Close() {
	if !p.IsOpen() {
		return
	}
	w := p.window
	p.sheet.show(nil, false)
	p.window, p.root, p.room, p.sheet, p.board = nil, nil, nil, nil, nil
	w.Close()
	p.tell()
}

// ShowPicture shows another picture, or none where it is nil. A preview may be another
// picture than the plan's: nothing is drawn over it.
func (p *Projector) ShowPicture(tiles *pyramid.Pyramid, preview bool) {
	p.picture, p.preview = tiles, preview
	if p.IsOpen() {
		p.showPicture()
	}
}

func (p *Projector) showPicture() {
	p.sheet.show(p.picture, p.preview)
	p.sheet.area.RotateTo(p.turn)
}

// Turn turns the sheet to an angle in radians, clockwise from upright.
func (p *Projector) Turn(angle float64) {
	p.turn = angle
	if p.IsOpen() {
		p.sheet.area.RotateTo(angle)
	}
}

// PictureChanged says that a level of the picture looks otherwise than before.
func (p *Projector) PictureChanged(level int) {
	if p.IsOpen() {
		p.sheet.area.PictureChanged(level)
	}
}

// follow shows what the lesson shows.
func (p *Projector) follow() {
	if p.IsOpen() {
		p.board.wanted = nil
		p.sheet.follow()
	}
}

// beside has the board say what the lesson shows now, in one step with the drawing on a
// sheet: the group would read figures beside the drawing of another line as its bearing.
func (p *Projector) beside(x *sheet) mapview.Beside {
	if p.sheet != x { // it was closed
		return nil
	}
	now := tell(p.n.Lesson, p.n.Session)
	draw := p.board.prepare(&now)
	return func() func() {
		drawn := draw()
		return func() {
			if p.sheet == x {
				p.show(&now, drawn)
			}
		}
	}
}

// show shows what has been drawn for the board, in as much room as that needs.
func (p *Projector) show(now *told, drawn *picture) {
	p.board.show(now, drawn)
	if compass := now.compass != nil; compass != p.room.compass {
		p.room.compass = compass
		p.root.Refresh()
	}
}

func (p *Projector) toggleHidden() { p.n.Lesson.SetHidden(!p.n.Lesson.Hidden()) }

// escape closes the menu, or else the window.
func (p *Projector) escape() {
	if top := p.window.Canvas().Overlays().Top(); top != nil {
		top.Hide()
		return
	}
	p.Close()
}

// toggleFull fills the screen, or leaves that.
func (p *Projector) toggleFull() {
	p.window.SetFullScreen(!p.window.FullScreen())
	p.tell()
}
