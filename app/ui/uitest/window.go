package uitest

import (
	"sync"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"

	"legwright/app/ui/look"
)

// App is an application of the test driver in the look of the program, whose
// windows a test can drop files on and close. Its queue stands for its main loop.
type App struct {
	fyne.App
	Windows []*Window
	Queue   Queue
	Ended   bool // the program was told to end
}

// NewApp returns an application for the time of a test.
func NewApp(t testing.TB) *App {
	t.Helper()
	test.NewCanvas().Capture() // lets the toolkit forget the widgets of tests that are long over
	s := stocked()
	a := &App{App: s.take(), Queue: NewQueue()}
	fyne.SetCurrentApp(a.App)
	t.Cleanup(func() {
		if a.Settings().Theme() != s.light {
			test.NewApp() // what the toolkit has drawn in another theme is of no use to the next test
		}
	})
	return a
}

// stock are applications made ahead in the light theme. To make one, or to set its theme,
// empties the toolkit's caches of fonts, of measured texts and of drawn icons, which is a good
// part of the time that it takes to open a window.
type stock struct {
	light fyne.Theme
	apps  chan fyne.App
}

// inStock is how many applications are made ahead; those beyond are made when wanted.
const inStock = 300

var stocked = sync.OnceValue(func() *stock {
	s := &stock{look.New(look.LightMode), make(chan fyne.App, inStock)}
	for range inStock {
		s.apps <- s.made()
	}
	return s
})

func (s *stock) made() fyne.App {
	app := test.NewApp()
	app.Settings().SetTheme(s.light)
	return app
}

// take returns an application that no test has had.
func (s *stock) take() fyne.App {
	select {
	case app := <-s.apps:
		return app
	default:
		return s.made()
	}
}

// Quit notes that the program ends.
func (a *App) Quit() {
	a.Ended = true
	a.App.Quit()
}

// NewWindow returns a *Window.
func (a *App) NewWindow(title string) fyne.Window {
	w := &Window{Window: a.App.NewWindow(title)}
	a.Windows = append(a.Windows, w)
	return w
}

// Window is a window of the test driver with what a person does to it.
type Window struct {
	fyne.Window
	dropped func(fyne.Position, []fyne.URI)
	closing func()
}

// NewWindow returns a window of 1280 × 800 DIP with a content, in an application
// of its own. It is closed at the end of the test.
func NewWindow(t testing.TB, content fyne.CanvasObject) *Window {
	t.Helper()
	w := NewApp(t).NewWindow("").(*Window)
	w.SetPadded(false)
	w.SetContent(content)
	w.Resize(fyne.NewSize(1280, 800))
	t.Cleanup(w.Close)
	return w
}

// SetOnDropped keeps what Drop calls.
func (w *Window) SetOnDropped(f func(fyne.Position, []fyne.URI)) { w.dropped = f }

// SetCloseIntercept keeps what RequestClose calls.
func (w *Window) SetCloseIntercept(f func()) { w.closing = f }

// RequestClose is a click on the window's own close button.
func (w *Window) RequestClose() {
	if w.closing == nil {
		w.Close()
		return
	}
	w.closing()
}

// Drop drops files on the window at a position, in DIP.
func (w *Window) Drop(at fyne.Position, paths ...string) {
	var list []fyne.URI
	for _, p := range paths {
		list = append(list, storage.NewFileURI(p))
	}
	w.dropped(at, list)
}

// Key presses a key where the focus is.
func (w *Window) Key(name fyne.KeyName) {
	e := &fyne.KeyEvent{Name: name}
	if f := w.Canvas().Focused(); f != nil {
		f.TypedKey(e)
	} else if on := w.Canvas().OnTypedKey(); on != nil {
		on(e)
	}
}

// Type types a text where the focus is, letter by letter.
func (w *Window) Type(text string) {
	for _, r := range text {
		if f := w.Canvas().Focused(); f != nil {
			f.TypedRune(r)
		} else if on := w.Canvas().OnTypedRune(); on != nil {
			on(r)
		}
	}
}

// Replace types a text over the whole content of the field with the focus.
func (w *Window) Replace(text string) {
	if f, ok := w.Canvas().Focused().(fyne.Shortcutable); ok {
		f.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
	if text == "" {
		w.Key(fyne.KeyBackspace)
	}
	w.Type(text)
}

// Menu returns an entry of the main menu by the labels that lead to it, such as
// "File", "Save", and fails the test where there is none.
func (w *Window) Menu(t testing.TB, labels ...string) *fyne.MenuItem {
	t.Helper()
	var items []*fyne.MenuItem
	for _, m := range w.MainMenu().Items {
		if m.Label == labels[0] {
			items = m.Items
		}
	}
	var at *fyne.MenuItem
	for _, label := range labels[1:] {
		at = nil
		for _, i := range items {
			if i.Label == label {
				at = i
			}
		}
		if at == nil {
			t.Fatalf("the menu has no %q", labels)
		}
		if at.ChildMenu != nil {
			items = at.ChildMenu.Items
		}
	}
	return at
}

// Pick chooses an entry of the main menu, and fails the test where it cannot act.
func (w *Window) Pick(t testing.TB, labels ...string) {
	t.Helper()
	i := w.Menu(t, labels...)
	if i.Disabled || i.Action == nil {
		t.Fatalf("the menu's %q cannot act", labels)
	}
	i.Action()
}
