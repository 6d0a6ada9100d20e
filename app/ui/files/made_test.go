package files_test

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"legwright/app/calib"
	"legwright/app/geodesy"
	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/files"
	"legwright/app/ui/foot"
	"legwright/app/ui/opening"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// bench is a room over a window of the test driver.
type bench struct {
	*files.Room
	t        *testing.T
	s        *session.Session
	window   *uitest.Window
	foot     *foot.Line
	dialogs  *ask.Dialogs
	settings *files.Settings
	desk     *opening.Desk
	queue    uitest.Queue

	refuses bool // the field that is being typed into refuses
	shown   int  // plans shown
	reports []opening.Report
}

func (b *bench) TakeTyping() bool               { return !b.refuses }
func (b *bench) PlanOpened(_ bool)              { b.shown++ }
func (b *bench) Busy()                          {}
func (b *bench) PictureOpened(r opening.Report) { b.reports = append(b.reports, r) }

// The window that the desk knows.
func (b *bench) Show(opening.Shown)         {}
func (b *bench) Progress()                  {}
func (b *bench) Tell(r opening.Report) bool { return b.Pictures.Tell(r) }
func (b *bench) Ask(q opening.Question)     { b.Pictures.Ask(q) }

func (b *bench) overlay() fyne.CanvasObject {
	return b.window.Canvas().Overlays().Top()
}

// stand makes a room with an empty plan.
func stand(t *testing.T) *bench {
	t.Helper()
	b := &bench{t: t, foot: foot.New(), queue: uitest.NewQueue(), window: uitest.NewWindow(t, widget.NewLabel(""))}
	b.s = session.New(planfile.NewStore(), nil, func() time.Time { return time.Date(2026, 11, 28, 0, 0, 0, 0, time.UTC) })
	b.dialogs = ask.New(b.window, b.foot, b.queue.Later)
	b.settings = files.NewSettings(fyne.CurrentApp().Preferences())
	known := planfile.KnownIn(t.TempDir())
	b.desk = opening.New(b.s, &opening.Source{Opener: scan.NewOpener()}, b, opening.Options{Later: b.queue.Later})
	t.Cleanup(b.desk.Close)
	b.Room = files.New(files.Needs{
		Session: b.s, Foot: b.foot, Dialogs: b.dialogs, Desk: b.desk, Settings: b.settings, Known: &known,
		Host: b, Later: b.queue.Later,
	})
	return b
}

// do fails the test on an error.
func do(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// picture writes a picture of 400 × 300 grey pixels and returns its path.
func picture(t *testing.T, name string, grey uint8) string {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range m.Pix {
		m.Pix[i] = grey
	}
	path := filepath.Join(t.TempDir(), name)
	f, err := os.Create(path)
	do(t, err)
	do(t, png.Encode(f, m))
	do(t, f.Close())
	return path
}

// calibrated is a room with a sheet of 400 × 300 pixels, 10 m each, whose picture is in
// a folder of its own and can be read.
func calibrated(t *testing.T) *bench {
	t.Helper()
	b := stand(t)
	b.Opener.Open(picture(t, "ground.png", 200))
	b.until("the picture", func() bool { return len(b.reports) == 1 })
	do(t, b.desk.Pyramid().Wait(0))
	do(t, b.s.SetGrid(geodesy.EPSG(27700)))
	for _, c := range []struct {
		at   calib.PicturePt
		text string
	}{{calib.PicturePt{Col: 100, Row: 200}, "NL 21 42"}, {calib.PicturePt{Col: 300, Row: 200}, "NL 23 42"}} {
		_, err := b.s.AddControlPoint(c.at, c.text)
		do(t, err)
	}
	return b
}

// mark sets a mark at a pixel.
func (b *bench) mark(name string, col, row float64) plan.End {
	b.t.Helper()
	pos, err := b.s.PositionAt(calib.PicturePt{Col: col, Row: row}, 0.5)
	do(b.t, err)
	_, err = b.s.AddMark(name, pos)
	do(b.t, err)
	m, _ := b.s.Plan().MarkByName(name)
	return plan.AtMark(m)
}

// leg keeps a leg between two points.
func (b *bench) leg(from, to plan.End) {
	b.t.Helper()
	_, err := b.s.KeepLeg(from, to)
	do(b.t, err)
}

// until lets the room work until a condition holds.
func (b *bench) until(what string, holds func() bool) {
	b.t.Helper()
	b.queue.Until(b.t, what, holds)
}

// asked waits for a dialog.
func (b *bench) asked(what string) {
	b.t.Helper()
	b.until(what, b.dialogs.Waiting)
}

// answer taps the button of the topmost dialog that says a text.
func (b *bench) answer(text string) {
	b.t.Helper()
	if !b.dialogs.Waiting() {
		b.t.Fatalf("no dialog is open to be answered %q", text)
	}
	b.window.Tap(b.t, text)
}

// typeInto types a path into the field of the topmost dialog, in place of what it holds.
func (b *bench) typeInto(text string) {
	b.t.Helper()
	b.window.Replace(text)
	b.window.Key(fyne.KeyReturn)
}

// fill types into the field with a placeholder.
func (b *bench) fill(placeholder, text string) {
	b.t.Helper()
	for _, o := range test.LaidOutObjects(b.overlay()) {
		if e, ok := o.(*widgets.EscapeEntry); ok && e.PlaceHolder == placeholder {
			e.SetText(text)
			return
		}
	}
	b.t.Fatalf("no field says %q", placeholder)
}
