package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// dropAll drops files on the window.
func dropAll(b *Bench, paths ...string) { b.files.Opener.Drop(paths) }

// overText is the text of what lies over the bench.
func overText(b *Bench) string {
	var out []string
	if top := b.window.Canvas().Overlays().Top(); top != nil {
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
	pic, other := picture(t), otherPicture(t)
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
			b := stand(t)
			dropAll(b, tc.paths...)
			until(t, b, "the end", func() bool {
				return !b.openingPicture() && !b.files.Exchange.Importing() && (b.dialogs.Waiting() || !tc.dialog)
			})
			told := overText(b)
			for _, w := range tc.wants {
				if !strings.Contains(b.foot.Message(), w) || tc.dialog && !strings.Contains(told, strings.TrimSuffix(w, ":")) {
					t.Errorf("the message %q and the dialog %q, want %q in both", b.foot.Message(), told, w)
				}
			}
			if n := strings.Count(told, "broken.png"); n > 1 {
				t.Errorf("the broken one is named %d times: %q", n, told)
			}
			if b.dialogs.Waiting() != tc.dialog {
				t.Errorf("told over the bench: %v, want %v", b.dialogs.Waiting(), tc.dialog)
			}
		})
	}
}

// What a person does not want opened takes those dropped with it along, and says
// so; a plan that is dropped with a picture is opened alone.
func TestMixedDropThatIsAskedAbout(t *testing.T) {
	b, path := saved(t)
	reopened(t, b, path)
	until(t, b, "the plan's picture", func() bool { return whole(b) })
	other, text := otherPicture(t), madeFile(t, "notes.txt", "no map")
	dropAll(b, other, text)
	answerWith(t, b, "Cancel")
	if want := filepath.Base(other) + " and 1 more were not opened"; !strings.Contains(b.foot.Message(), want) || b.dialogs.Waiting() {
		t.Errorf("the message %q, want %q", b.foot.Message(), want)
	}
	dropAll(b, other, text)
	answerWith(t, b, "Add as another sheet")
	until(t, b, "the end", func() bool { return b.dialogs.Waiting() })
	if got := overText(b); !strings.Contains(got, "notes.txt was skipped") || !strings.Contains(got, filepath.Base(other)+" was opened") || len(b.s.Plan().Sheets) != 2 {
		t.Errorf("told %q with %d sheets", got, len(b.s.Plan().Sheets))
	}
	b.escape()
	if err := b.s.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	trusted(t, b, path)
	dropAll(b, path, other)
	planRead(t, b)
	if got := overText(b); !strings.Contains(got, filepath.Base(path)) || !strings.Contains(got, filepath.Base(other)+" was skipped") {
		t.Errorf("a plan and a picture: told %q", got)
	}
	until(t, b, "the plan's picture", func() bool { return whole(b) })
}
