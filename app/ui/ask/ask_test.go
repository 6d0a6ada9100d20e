package ask_test

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/geodesy"
	"legwright/app/ui/ask"
	"legwright/app/ui/foot"
	"legwright/app/ui/uitest"
	"legwright/app/ui/widgets"
)

// subFolder is a folder as a list of files shows it.
const subFolder = "sub" + string(filepath.Separator)

// over returns dialogs over a window with a foot line and nothing else.
func over(t *testing.T) (*ask.Dialogs, *uitest.Window, *foot.Line) {
	t.Helper()
	line := foot.New()
	w := uitest.NewWindow(t, container.NewWithoutLayout(line))
	return ask.New(w, line, uitest.NewQueue().Later), w, line
}

// Return, Space and Escape answer a question, and Return gives the default.
func TestQuestionsTakeKeys(t *testing.T) {
	for _, c := range []struct {
		key  fyne.KeyName
		want string
	}{{fyne.KeyReturn, "yes"}, {fyne.KeySpace, "yes"}, {fyne.KeyEscape, "otherwise"}} {
		d, w, _ := over(t)
		got := ""
		q := d.Question("Sure", "Are you?", func() { got += "otherwise" },
			ask.Answer{Text: "No"}, ask.Answer{Text: "Yes", Do: func() { got += "yes" }, Default: true})
		if !q.Open() || !d.Waiting() {
			t.Error("the question does not wait")
		}
		w.Key(c.key)
		if got != c.want || d.Waiting() || q.Open() || d.Open() != 0 {
			t.Errorf("%s: got %q, waiting %v, want %q and none", c.key, got, d.Waiting(), c.want)
		}
	}
}

// A question that warns does harm by its own button alone.
func TestAQuestionThatWarnsIsHarmlessByDefault(t *testing.T) {
	for _, c := range []struct {
		does string
		do   func(*uitest.Window)
	}{
		{"cancelled", func(w *uitest.Window) { w.Key(fyne.KeyReturn) }},
		{"cancelled", func(w *uitest.Window) { w.Key(fyne.KeyEscape) }},
		{"cancelled", func(w *uitest.Window) { w.Tap(t, "Cancel") }},
		{"used", func(w *uitest.Window) { w.Tap(t, "Use it") }},
	} {
		d, w, _ := over(t)
		got := ""
		d.Warn("Another picture", "Every bearing on it would be wrong.", "Use it", func() { got += "used" }, func() { got += "cancelled" })
		if c.do(w); got != c.does {
			t.Errorf("got %q, want %q", got, c.does)
		}
	}
}

// A form keeps what was entered while it will not do, and says why.
func TestAFormKeepsARefusedEntry(t *testing.T) {
	d, w, _ := over(t)
	entry, taken := d.Entry("reference"), ""
	q := d.Form(ask.Form{Title: "A mark", Verb: "Set", Body: entry, Size: fyne.NewSize(400, 200), Focus: entry, Submit: func() error {
		if entry.Text != "NL 21 42" {
			return errors.New("that is no reference")
		}
		taken = entry.Text
		return nil
	}})
	w.Type("nonsense")
	w.Key(fyne.KeyReturn)
	if !q.Open() || entry.Text != "nonsense" || !w.Shows("That is no reference.") {
		t.Fatalf("open %v with %q; shown is %q", q.Open(), entry.Text, w.Texts())
	}
	w.Replace("NL 21 42")
	w.Key(fyne.KeyReturn)
	if q.Open() || taken != "NL 21 42" {
		t.Errorf("open %v, taken %q", q.Open(), taken)
	}
}

// A question that a form's own act asked, and the progress of what it began, stay over
// the window when the form goes.
func TestWhatAFormAsksStays(t *testing.T) {
	d, w, _ := over(t)
	entry, answered := d.Entry("text"), ""
	d.Form(ask.Form{Title: "Grid", Verb: "Use", Body: entry, Size: fyne.NewSize(400, 200), Focus: entry, Submit: func() error {
		d.Question("Letters", "Which?", nil, ask.Answer{Text: "NL", Do: func() { answered += "NL" }, Default: true})
		return nil
	}})
	if w.Key(fyne.KeyReturn); d.Open() != 1 || !w.Shows("Letters") || w.Shows("Grid") {
		t.Fatalf("%d questions wait; shown is %q", d.Open(), w.Texts())
	}
	if w.Key(fyne.KeyReturn); answered != "NL" || d.Open() != 0 || d.Waiting() {
		t.Errorf("Return answered %q; %d questions wait", answered, d.Open())
	}
}

// The keys of a long text scroll it while its button has the focus.
func TestKeysScrollALongText(t *testing.T) {
	d, w, _ := over(t)
	long := container.NewVScroll(widgets.NewWrapped(strings.Repeat("line\n", 200)))
	d.Show("Sources", long, fyne.NewSize(400, 300))
	for _, c := range []struct {
		key  fyne.KeyName
		more bool // further down than before
	}{{fyne.KeyDown, true}, {fyne.KeyPageDown, true}, {fyne.KeyEnd, true}, {fyne.KeyUp, false}, {fyne.KeyHome, false}, {fyne.KeyPageDown, true}} {
		before := long.Offset.Y
		if w.Key(c.key); long.Offset.Y == before || long.Offset.Y > before != c.more {
			t.Errorf("%s scrolls from %g to %g", c.key, before, long.Offset.Y)
		}
	}
	if w.Key(fyne.KeyReturn); d.Waiting() {
		t.Error("Return does not close it")
	}
}

// Return submits a form and Escape cancels it from each kind of field, also where the
// toolkit's own field keeps these keys.
func TestKeysLeaveEveryField(t *testing.T) {
	for name, field := range map[string]func(*ask.Dialogs) fyne.CanvasObject{
		"a text": func(d *ask.Dialogs) fyne.CanvasObject { return d.Entry("text") },
		"a list": func(d *ask.Dialogs) fyne.CanvasObject { return d.Select([]string{"mils", "gon"}, nil) },
		"a box":  func(d *ask.Dialogs) fyne.CanvasObject { return d.Check("set", nil) },
	} {
		for key, want := range map[fyne.KeyName]string{fyne.KeyReturn: "submitted", fyne.KeyEnter: "submitted", fyne.KeyEscape: "cancelled"} {
			d, w, _ := over(t)
			o, got := field(d), ""
			q := d.Form(ask.Form{
				Title: "Party", Verb: "Use", Body: o, Size: fyne.NewSize(400, 200), Focus: o.(fyne.Focusable),
				Submit: func() error { got += "submitted"; return nil }, Cancelled: func() { got += "cancelled" },
			})
			if w.Key(key); got != want || q.Open() {
				t.Errorf("%s and %s: %q, still open %v, want it %s", name, key, got, q.Open(), want)
			}
		}
	}
}

// Keys that end nothing work the field: the right key chooses in a list, and Space ticks
// a box.
func TestKeysWorkTheFields(t *testing.T) {
	d, w, _ := over(t)
	list, box := d.Select([]string{"mils", "gon"}, nil), d.Check("set", nil)
	d.Form(ask.Form{Title: "Party", Verb: "Use", Body: container.NewVBox(list, box), Size: fyne.NewSize(400, 200), Focus: list, Submit: func() error { return nil }})
	w.Key(fyne.KeyRight)
	w.Canvas().Focus(box)
	w.Type(" ")
	if list.Selected != "mils" || !box.Checked {
		t.Errorf("chosen %q, ticked %v", list.Selected, box.Checked)
	}
}

// Progress appears after a moment, is cancelled by Escape and its button, and is
// gone once it is closed.
func TestProgress(t *testing.T) {
	line, queue := foot.New(), uitest.NewQueue()
	w := uitest.NewWindow(t, container.NewWithoutLayout(line))
	d := ask.New(w, line, queue.Later)
	cancelled := 0
	p := d.Progress("Opening isle.png", func() { cancelled++ })
	p.Tell("Reading…", -1)
	queue.Until(t, "the dialog", p.Shown)
	queue.Until(t, "the seconds of work whose share is not known", func() bool { return strings.HasSuffix(p.Words(), " s") })
	if p.Tell("Decoding: row 3 of 6", 0.5); !w.Shows("Decoding: row 3 of 6") || !w.Shows("50%") {
		t.Errorf("shown is %q", w.Texts())
	}
	w.Tap(t, "Cancel")
	if !d.Escape() || cancelled != 2 {
		t.Errorf("cancelled %d times, want by button and by Escape", cancelled)
	}
	q := d.Question("Really?", "", nil, ask.Answer{Text: "Yes", Default: true})
	if !d.Escape() || q.Open() || cancelled != 2 {
		t.Errorf("Escape left the question over the work: %v, or cancelled the work: %d", q.Open(), cancelled)
	}
	p.Close()
	if p.Close(); p.Shown() || d.Waiting() || d.Escape() {
		t.Error("closed, it is still there")
	}
}

// folder makes a folder with a folder, two pictures and a text in it.
func folder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	long := strings.Repeat("a long name of a scan ", 5) + ".png"
	put(t, dir, "isle.png", long, "notes.txt", ".hidden.png", "sub/coast.png")
	return dir
}

// put makes files in a folder.
func put(t *testing.T, dir string, names ...string) {
	t.Helper()
	for _, name := range names {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// A file is opened by its typed path, by keys, and by double clicks; a double
// click on a folder opens the folder and no file.
func TestOpenAPath(t *testing.T) {
	for _, c := range []struct {
		name, want string
		do         func(w *uitest.Window, dir string)
	}{
		{"a typed path", "isle.png", func(w *uitest.Window, dir string) {
			w.Replace(filepath.Join(dir, "isle.png"))
			w.Key(fyne.KeyReturn)
		}},
		{"a name typed behind the folder", "isle.png", func(w *uitest.Window, _ string) {
			w.Type("isle.png")
			w.Key(fyne.KeyReturn)
		}},
		{"a whole path typed behind the folder", "sub/coast.png", func(w *uitest.Window, dir string) {
			w.Type(filepath.Join(dir, "sub", "coast.png"))
			w.Key(fyne.KeyReturn)
		}},
		{"keys into the list", "sub/coast.png", func(w *uitest.Window, _ string) {
			w.Key(fyne.KeyDown) // the folder stands first
			w.Key(fyne.KeyReturn)
			w.Key(fyne.KeyDown)
			w.Key(fyne.KeyReturn)
		}},
		{"a double click on a file", "isle.png", func(w *uitest.Window, _ string) { w.DoubleTap(t, "isle.png") }},
		{"a double click on a folder, then on a file", "sub/coast.png", func(w *uitest.Window, _ string) {
			w.DoubleTap(t, subFolder)
			w.DoubleTap(t, "coast.png")
		}},
		{"a double click on a folder", "", func(w *uitest.Window, _ string) { w.DoubleTap(t, subFolder) }},
		{"nothing there", "", func(w *uitest.Window, _ string) {
			w.Type("none.png")
			w.Key(fyne.KeyReturn)
		}},
		{"Escape", "", func(w *uitest.Window, _ string) { w.Key(fyne.KeyEscape) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, w, _ := over(t)
			dir, got := folder(t), ""
			d.OpenPath(ask.Path{Title: "Open", Verb: "Open", Start: dir, Endings: []string{".png"}, Done: func(p string) { got = p }})
			c.do(w, dir)
			want := c.want
			if want != "" {
				want = filepath.Join(dir, want)
			}
			if got != want || d.Waiting() != (want == "" && c.name != "Escape") {
				t.Errorf("got %q, waiting %v, want %q; shown is %q", got, d.Waiting(), want, w.Texts())
			}
		})
	}
}

// The list shows folders and the files of the wanted kinds, each with its whole
// name, and of those what holds the typed letters.
func TestTheListOfAFolder(t *testing.T) {
	d, w, _ := over(t)
	dir := folder(t)
	d.OpenPath(ask.Path{Title: "Open", Verb: "Open", Start: dir, Endings: []string{".png"}, Done: func(string) {}})
	listed := func() (list []string) {
		for _, s := range w.Texts() {
			if strings.HasSuffix(s, ".png") || s == subFolder || s == "notes.txt" {
				list = append(list, s)
			}
		}
		slices.Sort(list)
		return slices.Compact(list)
	}
	long := strings.Repeat("a long name of a scan ", 5) + ".png"
	if got, want := listed(), []string{long, "isle.png", subFolder}; !slices.Equal(got, want) {
		t.Errorf("listed %q, want %q", got, want)
	}
	if w.Type("isl"); !slices.Equal(listed(), []string{"isle.png"}) {
		t.Errorf("with “isl” typed: listed %q", listed())
	}
	if w.Replace(filepath.Join(dir, "sub") + "/"); !slices.Equal(listed(), []string{"coast.png"}) {
		t.Errorf("with the folder's path typed: listed %q", listed())
	}
}

// A folder without a file that can be opened says so instead of asking for one.
func TestAFolderWithoutFiles(t *testing.T) {
	for name, files := range map[string][]string{
		"": {"isle.png"}, "empty": nil, "of other files": {"notes.txt"}, "of folders": {"sub/coast.png"}, "of hidden files": {".isle.png"},
	} {
		d, w, _ := over(t)
		dir := t.TempDir()
		put(t, dir, files...)
		d.OpenPath(ask.Path{Title: "Open", Verb: "Open", Start: dir, Endings: []string{".png"}, Done: func(string) {}})
		if says := w.Shows("This folder contains no file of the right kind"); says != (name != "") {
			t.Errorf("a folder %s: shown is %q", name, w.Texts())
		}
	}
}

// Saving takes a typed name, keeps it from folder to folder, adds the ending, and
// asks before it overwrites; Return at that question overwrites nothing.
func TestSaveAPath(t *testing.T) {
	d, w, _ := over(t)
	dir, got := folder(t), ""
	save := func() {
		got = ""
		d.SavePath(ask.Path{Title: "Export", Verb: "Export", Start: filepath.Join(dir, "walk.gpx"), Endings: []string{".gpx"}, Done: func(p string) { got = p }})
	}
	save()
	w.DoubleTap(t, subFolder)
	w.Tap(t, "Export")
	if want := filepath.Join(dir, "sub", "walk.gpx"); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if err := os.WriteFile(filepath.Join(dir, "day.gpx"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		end  func()
		want string
	}{
		{func() { w.Key(fyne.KeyReturn) }, ""},
		{func() { w.Key(fyne.KeyEscape) }, ""},
		{func() { w.Tap(t, "Overwrite") }, filepath.Join(dir, "day.gpx")},
	} {
		save()
		w.Replace(filepath.Join(dir, "day"))
		if !w.Shows("Overwrites the existing file.") {
			t.Errorf("the note says nothing of overwriting: %q", w.Texts())
		}
		w.Key(fyne.KeyReturn)
		if got != "" || !d.Waiting() {
			t.Fatalf("wrote %q, waiting %v, want the question first", got, d.Waiting())
		}
		if c.end(); got != c.want || d.Waiting() {
			t.Errorf("wrote %q, waiting %v, want %q", got, d.Waiting(), c.want)
		}
	}
	save()
	w.Replace("walk.gpx")
	if w.Key(fyne.KeyReturn); got != "" || !w.Shows("Type the full path") {
		t.Errorf("a path without its folder: wrote %q, shown is %q", got, w.Texts())
	}
}

// Of several files that exist each is named before it is overwritten. A read-only one
// is left to the question that Done asks.
func TestEveryFileThatExistsIsNamed(t *testing.T) {
	dir := t.TempDir()
	picture, grid := filepath.Join(dir, "isle.png"), filepath.Join(dir, "isle.prj")
	for path, perm := range map[string]os.FileMode{picture: 0o644, grid: 0o444} {
		if err := os.WriteFile(path, []byte("x"), perm); err != nil {
			t.Fatal(err)
		}
	}
	d, w, line := over(t)
	confirmed := 0
	p := ask.Path{Endings: []string{".png"}, Files: func(string) []string { return []string{picture, grid} }, Done: func(string) { confirmed++ }}
	d.Confirm(p, picture)
	if confirmed != 0 || !w.Shows(picture) || !w.Shows(grid) {
		t.Fatalf("confirmed %d times; shown is %q", confirmed, w.Texts())
	}
	w.Tap(t, "Overwrite")
	p.Files = func(string) []string { return []string{grid} }
	if d.Confirm(p, picture); confirmed != 2 || d.Waiting() {
		t.Errorf("confirmed %d times, waiting %v", confirmed, d.Waiting())
	}
	if d.Confirm(p, "isle.png"); !line.Failed() {
		t.Error("a path without its folder is not refused")
	}
}

func TestCheckSave(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "x.gpx"), 0o755); err != nil {
		t.Fatal(err)
	}
	p := ask.Path{Endings: []string{".gpx"}}
	for _, c := range []struct {
		path string
		ok   bool
	}{
		{filepath.Join(dir, "walk"), true},
		{filepath.Join(dir, "walk.gpx"), true},
		{"", false},
		{"walk.gpx", false},
		{dir + string(filepath.Separator), false},
		{filepath.Join(dir, "no", "walk.gpx"), false},
		{filepath.Join(dir, "x"), false},
	} {
		if err := p.CheckSave(c.path); (err == nil) != c.ok {
			t.Errorf("CheckSave(%q) = %v, want to pass: %v", c.path, err, c.ok)
		}
	}
	for in, want := range map[string]string{"a": "a.gpx", "a.GPX": "a.GPX", "a.b": "a.b.gpx", " a ": "a.gpx"} {
		if got := p.Full(in); got != want {
			t.Errorf("Full(%q) = %q, want %q", in, got, want)
		}
	}
}

// The field of the grid's dialog finds grids of the list, takes a definition, and
// says why it cannot read another. Return takes the first that is found.
func TestTheGridIsFound(t *testing.T) {
	const isle = "+proj=tmerc +lat_0=57 +lon_0=-6 +k=1 +x_0=0 +y_0=0 "
	for _, c := range []struct {
		name, text string
		found      bool
		first      geodesy.Code
		note       string
	}{
		{"nothing typed", "", true, "EPSG:27700", ""},
		{"a country", "new zealand", true, "EPSG:2193", ""},
		{"a code that is not in the list", "EPSG:2180", false, "", "Paste its definition"},
		{"in the list by its figures", "+proj=utm +zone=30 +datum=WGS84", true, "EPSG:32630", "grid is in the list"},
		{"of nobody's list", isle + "+ellps=intl +towgs84=-87,-98,-121", true, "", "± 20 m"},
		{"without a datum", isle + "+ellps=intl", true, "", "hundreds of metres"},
		{"in feet", isle + "+datum=WGS84 +units=ft", true, "", "foot"},
		{"half typed", `PROJCS["x",GEOGCS[`, false, "", "well-known text"},
		{"another family", "+proj=aea +lat_1=1 +lat_2=2 +ellps=GRS80", false, "", "Transverse Mercator"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, w, _ := over(t)
			var got geodesy.Code
			d.Grid("The grid of the sheet", "Search.", t.TempDir(), func(code geodesy.Code) { got = code })
			w.Replace(c.text)
			if !w.Shows(c.note) {
				t.Errorf("no note with %q: %q", c.note, w.Texts())
			}
			if w.Key(fyne.KeyReturn); (got != "") != c.found || (c.first != "" && got != c.first) || d.Waiting() == c.found {
				t.Errorf("chosen %q, waiting %v, want found %v, %q", got, d.Waiting(), c.found, c.first)
			}
		})
	}
}

// A grid's definition comes from a file; one that cannot be read changes nothing.
func TestAGridFromAFile(t *testing.T) {
	d, w, line := over(t)
	dir := t.TempDir()
	const prj = `PROJCS["Isle",GEOGCS["Isle 1907",DATUM["Isle_1907",SPHEROID["Airy 1830",6377563.396,299.3249646]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],` + "\n" +
		`PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",57],PARAMETER["central_meridian",-6],PARAMETER["scale_factor",1],PARAMETER["false_easting",10000],PARAMETER["false_northing",20000],UNIT["metre",1]]` + "\n"
	for name, text := range map[string]string{"isle.prj": prj, "large.prj": strings.Repeat(" ", 70<<10)} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var got geodesy.Code
	d.Grid("The grid of the sheet", "Search.", dir, func(code geodesy.Code) { got = code })
	w.Tap(t, "From a .prj file…")
	w.DoubleTap(t, "large.prj")
	if !line.Failed() || got != "" {
		t.Errorf("a file that is too large: failed %v, chosen %q", line.Failed(), got)
	}
	w.Tap(t, "From a .prj file…")
	w.DoubleTap(t, "isle.prj")
	w.FocusOn(t, "name, country, code or definition")
	w.Key(fyne.KeyReturn)
	sys, err := geodesy.Lookup(got)
	if err != nil || !got.Defined() || !strings.Contains(sys.Name(), "Isle") {
		t.Errorf("chosen %q: %v", got, err)
	}
}
