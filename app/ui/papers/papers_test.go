package papers_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"legwright/app/plan"
	"legwright/app/session"
	"legwright/app/ui/ask"
	"legwright/app/ui/files"
	"legwright/app/ui/foot"
	"legwright/app/ui/opening"
	"legwright/app/ui/papers"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
	"legwright/mapio/card"
	"legwright/mapio/planfile"
	"legwright/mapio/scan"
)

// bench is a room of papers over a window of the test driver. Pages are not drawn: what would be
// is kept.
type bench struct {
	*papers.Room
	t       *testing.T
	s       *session.Session
	window  *uitest.Window
	dialogs *ask.Dialogs
	foot    *foot.Line
	queue   uitest.Queue
	folder  string
	needs   papers.Needs
	kept    string // file of the people

	file   []byte // whose page was drawn last
	page   int
	opened *url.URL
	viewer error // of the system
	known  planfile.Known
}

func (b *bench) TakeTyping() bool             { return true }
func (b *bench) PlanOpened(bool)              {}
func (b *bench) Busy()                        {}
func (b *bench) PictureOpened(opening.Report) {}
func (b *bench) OpenURL(u *url.URL) error     { b.opened = u; return b.viewer }

// desk is the window that the desk knows.
type desk struct{}

func (desk) Show(opening.Shown)       {}
func (desk) Progress()                {}
func (desk) Tell(opening.Report) bool { return false }
func (desk) Ask(opening.Question)     {}

// stand makes a room over a session.
func stand(t *testing.T, s *session.Session) *bench {
	t.Helper()
	b := &bench{t: t, s: s, foot: foot.New(), queue: uitest.NewQueue(), window: uitest.NewWindow(t, widget.NewLabel("")), folder: t.TempDir()}
	b.dialogs = ask.New(b.window, b.foot, b.queue.Later)
	b.known = planfile.KnownIn(t.TempDir())
	d := opening.New(s, &opening.Source{Opener: scan.NewOpener()}, desk{}, opening.Options{Later: b.queue.Later})
	t.Cleanup(d.Close)
	room := files.New(files.Needs{
		Session: s, Foot: b.foot, Dialogs: b.dialogs, Desk: d, Settings: files.NewSettings(fyne.CurrentApp().Preferences()), Known: &b.known, Host: b, Later: b.queue.Later,
	})
	b.kept = filepath.Join(t.TempDir(), "legwright", "people.json")
	b.needs = papers.Needs{Session: s, Foot: b.foot, Dialogs: b.dialogs, Files: room, Host: b, Later: b.queue.Later, Folder: b.folder, Kept: b.kept, Draw: b.draw}
	b.Room = papers.New(b.needs)
	return b
}

// draw keeps what would be drawn, and counts the pages as the writer of PDFs writes them.
func (b *bench) draw(_ context.Context, file []byte, page int, px image.Point) (papers.Page, error) {
	n := bytes.Count(file, []byte("/Type /Page\n"))
	page = min(page, n)
	b.file, b.page = file, page
	return papers.Page{Number: page, Pages: n, Picture: image.NewRGBA(image.Rectangle{Max: px})}, nil
}

// shows waits until a page is shown, and returns its number and of how many.
func (b *bench) shows() (page, of int) {
	b.t.Helper()
	b.settle()
	if b.Failed() != nil {
		b.t.Fatalf("no page: %v", b.Failed())
	}
	return b.Shown()
}

// settle waits until nothing is being made.
func (b *bench) settle() {
	b.t.Helper()
	b.queue.Until(b.t, "the end of the making", func() bool { return !b.window.Shows("Making the") && !b.window.Shows("Drawing the") })
}

// choose takes an entry of a list to choose from by what it shows now.
func (b *bench) choose(shown, to string) {
	b.t.Helper()
	for _, x := range uitest.All[*widgets.Select](b.window) {
		if x.Selected == shown {
			x.SetSelected(to)
			return
		}
	}
	b.t.Fatalf("no list shows %q; there is %q", shown, b.window.Texts())
}

// The page that is shown is of the very bytes that are saved and handed to the viewer, and those
// of the plan, the form and the size that are chosen. The choice is kept for the next time.
func TestPreviewIsThePaper(t *testing.T) {
	b := stand(t, uitest.DemoSession(t))
	b.Show()
	page, of := b.shows()
	if page != 1 || of < 2 {
		t.Fatalf("page %d of %d, want the first of several", page, of)
	}
	b.window.Tap(t, "Next page")
	if page, _ = b.shows(); page != 2 || b.page != 2 {
		t.Errorf("page %d, drawn %d, want 2", page, b.page)
	}
	first := b.Bytes()
	b.choose("hill card", "leg cards")
	b.shows()
	if bytes.Equal(first, b.Bytes()) || !bytes.Equal(b.file, b.Bytes()) {
		t.Fatal("the page that is shown is not of the form that was chosen")
	}
	path := filepath.Join(t.TempDir(), "cards.pdf")
	b.window.Tap(t, "Save PDF…")
	b.window.Replace(path)
	b.window.Key(fyne.KeyReturn)
	b.queue.Until(t, "the file", func() bool { return b.foot.Message() != "" })
	if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, b.file) {
		t.Errorf("%v: what was saved is not what was shown", err)
	}
	if !strings.Contains(b.foot.Message(), "DRAFT: E04-1") {
		t.Errorf("the foot line does not say what stands on the paper: %q", b.foot.Message())
	}
	b.window.Tap(t, "Open in the viewer")
	b.queue.Until(t, "the viewer", func() bool { return b.opened != nil })
	if got, err := os.ReadFile(filepath.FromSlash(b.opened.Path)); err != nil || b.opened.Scheme != "file" || !bytes.Equal(got, b.file) {
		t.Errorf("%v, %v: what the viewer opens is not what was shown", b.opened, err)
	}
	b.window.Tap(t, "Close")
	if n, _ := b.Shown(); n != 0 || b.dialogs.Waiting() {
		t.Error("it does not close")
	}
	b.Show()
	b.shows()
	if !b.window.Shows("leg cards") {
		t.Error("the form that was chosen last is forgotten")
	}
}

// An escape in danger is no page but a sentence, and can be left out where that is said.
func TestLeaveOutWhatIsInDanger(t *testing.T) {
	s := uitest.DemoSession(t)
	p := s.Plan()
	from := p.Resolve(p.Escapes[0].Start)
	at := func(e, n float64) plan.Position {
		g := from.Grid
		g.E, g.N = g.E+e, g.N+n
		return plan.ImportedAt(p.Code(), g, 1)
	}
	p = p.AddHazard(plan.Hazard{ID: p.NextID(plan.OfHazard), Name: "Fank crag", Kind: plan.Crag, KeepM: 50, Points: []plan.Position{at(5, -30), at(60, -40)}})
	if err := s.Use(p); err != nil {
		t.Fatal(err)
	}
	b := stand(t, s)
	b.Show()
	b.settle()
	bad := new(card.Dangerous)
	if !errors.As(b.Failed(), &bad) || b.Bytes() != nil {
		t.Fatalf("an escape in danger: %v, %d bytes", b.Failed(), len(b.Bytes()))
	}
	if n, _ := b.Shown(); n != 0 {
		t.Error("a page is shown that cannot be printed")
	}
	b.window.Tap(t, "Leave out E04-1")
	b.shows()
	if b.Bytes() == nil {
		t.Error("nothing can be saved once the escape is left out")
	}
}

// A plan without legs says what is missing, and a group that estimates sees no figures.
func TestNothingToShow(t *testing.T) {
	b := stand(t, uitest.EmptySession())
	b.Show()
	b.settle()
	if !errors.Is(b.Failed(), card.ErrNoLegs) || b.Bytes() != nil {
		t.Errorf("without legs: %v", b.Failed())
	}
	b.dialogs.Escape()
	if b.Failed() != nil || b.dialogs.Waiting() {
		t.Error("Escape does not close it")
	}
	b = stand(t, uitest.DemoSession(t))
	b.Conceal(true)
	b.Show()
	if b.dialogs.Waiting() || !b.foot.Failed() {
		t.Error("the papers are shown to a group that estimates")
	}
	b.Conceal(false)
	b.Show()
	b.shows()
	b.Conceal(true)
	if b.dialogs.Waiting() {
		t.Error("the papers stay while figures are hidden")
	}
}

// What was chosen last is what is shown, whatever was being made before; cancelling shows nothing
// that could be taken for the paper.
func TestTheLastChoiceWins(t *testing.T) {
	b := stand(t, uitest.DemoSession(t))
	b.Show()
	for _, to := range []string{"leg cards", "hill card", "leg cards"} {
		b.choose(map[string]string{"leg cards": "hill card", "hill card": "leg cards"}[to], to)
	}
	b.shows()
	last := b.Bytes()
	b.choose("leg cards", "hill card")
	b.window.Tap(t, "Cancel")
	if n, _ := b.Shown(); n != 0 || b.Bytes() != nil || b.Failed() == nil {
		t.Errorf("after Cancel page %d is shown, %v", n, b.Failed())
	}
	b.window.Tap(t, "Make the pages")
	b.shows()
	if b.Bytes() == nil || bytes.Equal(last, b.Bytes()) {
		t.Error("what was cancelled was not made again")
	}
}

// A viewer that does not open is said, with what to do.
func TestNoViewer(t *testing.T) {
	b := stand(t, uitest.DemoSession(t))
	b.viewer = errors.New("no program opens PDF")
	b.Show()
	b.shows()
	b.window.Tap(t, "Open in the viewer")
	b.queue.Until(t, "the refusal", b.foot.Failed)
	if !b.window.Shows("Save the PDF") {
		t.Errorf("it says %q", b.window.Texts())
	}
}

// A base sheet is not made before somebody is named, and nothing of what is typed outlives the
// plan and the program unless it is saved.
func TestBaseSheetAsksWhoWalks(t *testing.T) {
	b := stand(t, uitest.DemoSession(t))
	b.Show()
	b.choose("hill card", "base sheet")
	b.settle()
	nobody := b.Failed()
	if nobody == nil || b.Bytes() != nil {
		t.Fatal("a base sheet of nobody")
	}
	b.window.Tap(t, "Name the party…")
	b.window.Resize(fyne.NewSize(1280, 480)) // the form is higher
	due, _ := uitest.Find[*widgets.EscapeEntry](b.window, "such as 17:30 (if empty: when the route ends)")
	position := func() fyne.Position { return fyne.CurrentApp().Driver().AbsolutePositionForObject(due) }
	was := position()
	test.Scroll(b.window.Canvas(), was.AddXY(20, 10), 0, -40)
	if position().Y >= was.Y {
		t.Error("the wheel over a field does not scroll the form")
	}
	b.fill("the number to ring in the country where you walk", "112")
	b.window.Tap(t, "Use")
	if !b.window.Shows("Person 1") {
		t.Fatal("the form takes people without a name")
	}
	b.fill("name", "Una Example")
	b.window.Tap(t, "Add another person")
	if e, is := b.window.Canvas().Focused().(*widgets.EscapeEntry); !is || e.PlaceHolder != "name" || e.Text != "" {
		t.Error("the name of the person who was added is not typed next")
	}
	b.fill("such as 17:30 (if empty: when the route ends)", "half six")
	b.window.Tap(t, "Use")
	if !b.window.Shows("Person 1") {
		t.Fatal("the form takes letters for a time")
	}
	b.fill("the number to ring in the country where you walk", " ")
	b.window.Tap(t, "Use")
	if !b.window.Shows("Person 1") || !strings.Contains(strings.ToLower(strings.Join(b.window.Texts(), " ")), "the emergency number is missing") || b.Bytes() != nil {
		t.Fatalf("without an emergency number: %q", b.window.Texts())
	}
	b.fill("the number to ring in the country where you walk", "112")
	b.fill("such as 17:30 (if empty: when the route ends)", "17:30")
	b.window.Tap(t, "Use")
	b.shows()
	if b.Bytes() == nil {
		t.Fatal("no base sheet of Una Example")
	}
	b.window.Tap(t, "Open in the viewer")
	b.queue.Until(t, "the viewer", func() bool { return b.opened != nil })
	b.Close()
	if _, err := os.Stat(b.opened.Path); err == nil {
		t.Error("the file of the viewer stays when the program ends")
	}
	b.dialogs.Escape()
	if err := b.s.Use(b.s.Plan().SetTitle("Another day")); err != nil {
		t.Fatal(err)
	}
	b.Show()
	b.queue.Until(t, "the question who walks the next plan", func() bool { return errors.Is(b.Failed(), nobody) })
}

// From the last person back to the first field, each field that has the focus shows.
func TestThePartyScrollsBack(t *testing.T) {
	b := stand(t, uitest.DemoSession(t))
	b.Show()
	b.choose("hill card", "base sheet")
	b.settle()
	b.window.Tap(t, "Name the party…")
	for range 4 {
		b.window.Tap(t, "Add another person")
	}
	canvas, seen := b.window.Canvas(), map[fyne.Focusable]bool{}
	var form *container.Scroll
	for _, s := range uitest.All[*container.Scroll](b.window) {
		if form == nil || s.Size().Height > form.Size().Height {
			form = s
		}
	}
	top := fyne.CurrentApp().Driver().AbsolutePositionForObject(form).Y
	for range 100 {
		canvas.FocusPrevious()
		o := canvas.Focused()
		if seen[o] {
			break
		}
		seen[o] = true
		if y := fyne.CurrentApp().Driver().AbsolutePositionForObject(o.(fyne.CanvasObject)).Y; y < top-1 {
			t.Errorf("%T at %.0f has the focus and does not show below %.0f", o, y, top)
		}
	}
	if len(seen) < 30 {
		t.Errorf("%d fields have had the focus", len(seen))
	}
}

// The people are kept where the person ticks the box and nowhere else, for its account alone;
// clearing the box deletes them. The next plan begins with them, and still asks.
func TestPeopleAreKeptWhenAsked(t *testing.T) {
	b := stand(t, uitest.DemoSession(t))
	tick := func(on bool) {
		for _, x := range uitest.All[*widgets.Check](b.window) {
			if strings.HasPrefix(x.Text, "Keep these") {
				x.SetChecked(on)
			}
		}
	}
	b.Show()
	b.choose("hill card", "base sheet")
	b.settle()
	nobody := b.Failed()
	if nobody == nil {
		t.Fatal("a base sheet of nobody")
	}
	b.window.Tap(t, "Name the party…")
	b.fill("the number to ring in the country where you walk", "112")
	b.fill("name", "Una Example")
	b.fill("such as 17:30 (if empty: when the route ends)", "17:30") // no terrain: the route may end later than its clock says
	b.window.Tap(t, "Use")
	b.shows()
	if _, err := os.Stat(b.kept); err == nil {
		t.Fatal("people are kept unasked")
	}
	b.window.Tap(t, "Name the party…")
	tick(true)
	b.window.Tap(t, "Use")
	b.queue.Until(t, "the file of the people", func() bool { return strings.Contains(b.foot.Message(), "personal data") })
	info, err := os.Stat(b.kept)
	if err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Fatalf("%v, %v: want a file of mode 0600", info, err)
	}
	b.window.Tap(t, "Name the party…")
	tick(false)
	if got := b.Note(); !strings.Contains(got, "no longer kept") {
		t.Errorf("beside the page stands %q", got)
	}
	tick(true)
	b.window.Tap(t, "Use")
	b.queue.Until(t, "the file again", func() bool { _, err := os.Stat(b.kept); return err == nil })
	b.dialogs.Escape()
	if err := b.s.Use(b.s.Plan().SetTitle("Another day")); err != nil {
		t.Fatal(err)
	}
	b.Show()
	b.queue.Until(t, "the question, once the terrain is read", func() bool { return errors.Is(b.Failed(), nobody) })
	b.window.Tap(t, "Name the party…")
	b.queue.Until(t, "the people who were kept", func() bool { return b.window.Shows("Una Example") })
	tick(false)
	if _, err := os.Stat(b.kept); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("%v: the people are still kept", err)
	}
	b.window.Tap(t, "Use")
	b.shows()
	path := filepath.Join(t.TempDir(), "base.pdf")
	b.window.Tap(t, "Save PDF…")
	b.window.Replace(path)
	b.window.Key(fyne.KeyReturn)
	b.queue.Until(t, "the PDF", func() bool { return strings.Contains(b.foot.Message(), "Saved base.pdf") })
	if info, err := os.Stat(path); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v: want a PDF of mode 0600", info, err)
	}
	if _, err := os.Stat(b.kept); err == nil {
		t.Error("Use keeps people without the tick")
	}
}

// fill types into the field with a placeholder.
func (b *bench) fill(placeholder, text string) {
	b.t.Helper()
	b.window.FocusOn(b.t, placeholder)
	b.window.Replace(text)
}

// Another start of the program leaves the viewer's file of this run alone. The file goes when this
// run ends well, and at the next start where it does not.
func TestTheViewersFileLastsAsLongAsItsRun(t *testing.T) {
	b := stand(t, uitest.DemoSession(t))
	b.Show()
	b.shows()
	b.window.Tap(t, "Open in the viewer")
	b.queue.Until(t, "the viewer", func() bool { return b.opened != nil })
	file := filepath.FromSlash(b.opened.Path)
	papers.New(b.needs).Close()
	if _, err := os.Stat(file); err != nil {
		t.Errorf("after another start and end: %v", err)
	}
	b.Die()
	if _, err := os.Stat(file); err != nil {
		t.Fatalf("after a crash: %v, want the file still there", err)
	}
	papers.New(b.needs)
	if left, err := os.ReadDir(b.folder); err != nil || len(left) > 0 {
		t.Errorf("at the next start after a crash: %v left, %v", left, err)
	}
}
