package sheettest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"legwright/app/ui/benchtest"
)

// overText is the text of what lies over the bench.
func overText(b *benchtest.Bench) string {
	var out []string
	if top := b.Canvas().Overlays().Top(); top != nil {
		for _, o := range test.LaidOutObjects(top) {
			if l, ok := o.(*widget.Label); ok {
				out = append(out, l.Text)
			}
		}
	}
	return strings.Join(out, "\n")
}

// madeFile writes a file of that name into a folder of its own.
func madeFile(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// After several files are dropped together the message names each of them, whichever
// could be opened.
func TestMixedDropTellsAll(t *testing.T) {
	const track = `<gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="56.5" lon="-8"><name>Cairn</name></wpt></gpx>`
	pic, other := benchtest.Picture(t), benchtest.OtherPicture(t)
	gpx, broken, text := madeFile(t, "walk.gpx", track), madeFile(t, "broken.png", "no picture"), madeFile(t, "notes.txt", "no map")
	opened := func(name string) string { return "Opened " + name }
	for _, tc := range []struct {
		name   string
		paths  []string
		wants  []string // in the message and, where something is amiss, in the dialog
		dialog bool
	}{
		{"a picture and a track", []string{pic, gpx}, []string{filepath.Base(pic), "walk.gpx was skipped"}, true},
		{"a track and a picture", []string{gpx, pic}, []string{"walk.gpx", filepath.Base(pic) + " was skipped"}, true},
		{"a picture and a text", []string{pic, text}, []string{filepath.Base(pic), "notes.txt was skipped"}, true},
		{"a text and a picture", []string{text, pic}, []string{"notes.txt:", filepath.Base(pic) + " was skipped"}, true},
		{"a picture and a broken one", []string{pic, broken}, []string{"broken.png:", filepath.Base(pic) + " was opened"}, true},
		{"a broken one and two pictures", []string{broken, pic, other}, []string{"broken.png:", filepath.Base(pic) + " and 1 more were not opened"}, true},
		{"two pictures", []string{pic, other}, []string{opened(filepath.Base(other))}, false},
		{"one picture", []string{pic}, []string{opened(filepath.Base(pic))}, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			b := benchtest.Open(t)
			b.Files.Drop(tc.paths...)
			b.Until("the end", func() bool {
				return !b.Opening() && b.Foot.Message() != "" && (b.Asks() || !tc.dialog)
			})
			told := overText(b)
			for _, w := range tc.wants {
				if !strings.Contains(b.Foot.Message(), w) || tc.dialog && !strings.Contains(told, strings.TrimSuffix(w, ":")) {
					t.Errorf("the message %q and the dialog %q, want %q in both", b.Foot.Message(), told, w)
				}
			}
			if n := strings.Count(told, "broken.png"); n > 1 {
				t.Errorf("the broken one is named %d times: %q", n, told)
			}
			if b.Asks() != tc.dialog {
				t.Errorf("told over the bench: %v, want %v", b.Asks(), tc.dialog)
			}
		})
	}
}

// What a person does not want opened takes those dropped with it along, and says
// so; a plan that is dropped with a picture is opened alone.
func TestMixedDropThatIsAskedAbout(t *testing.T) {
	b, path := benchtest.Saved(t)
	b.Files.Open(path)
	b.Until("the plan's picture", func() bool { return b.Whole() })
	other, text := benchtest.OtherPicture(t), madeFile(t, "notes.txt", "no map")
	b.Files.Drop(other, text)
	b.Answer("Cancel")
	if want := filepath.Base(other) + " and 1 more were not opened"; !strings.Contains(b.Foot.Message(), want) || b.Asks() {
		t.Errorf("the message %q, want %q", b.Foot.Message(), want)
	}
	b.Files.Drop(other, text)
	b.Answer("Add as another sheet")
	b.Until("the end", func() bool { return b.Asks() })
	if got := overText(b); !strings.Contains(got, "notes.txt was skipped") || !strings.Contains(got, filepath.Base(other)+" was opened") || len(b.Plan().Sheets) != 2 {
		t.Errorf("told %q with %d sheets", got, len(b.Plan().Sheets))
	}
	b.Escape()
	if err := b.Session().SaveAs(path); err != nil {
		t.Fatal(err)
	}
	b.Files.Trust(path)
	b.Files.Drop(path, other)
	b.Until("the plan and the message about it", func() bool { return b.Asks() })
	if got := overText(b); !strings.Contains(got, filepath.Base(path)) || !strings.Contains(got, filepath.Base(other)+" was skipped") {
		t.Errorf("a plan and a picture: told %q", got)
	}
	b.Until("the plan's picture", func() bool { return b.Whole() })
}
