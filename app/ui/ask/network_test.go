package ask

import (
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"legwright/app/ui/foot"
	"legwright/app/ui/uitest"
)

// A share is asked beside the window. Until it answers the dialog touches nothing on it and
// says what it waits for; one that cannot be reached is asked again with the next letter.
func TestAShareIsAskedBesideTheWindow(t *testing.T) {
	for _, c := range []struct {
		name, want string
		answer     error
	}{
		{"it answers", "There is no file ", nil},
		{"it answers, but its top folder is closed", "There is no file ", fs.ErrPermission},
		{"it cannot be reached", " cannot be reached", fs.ErrNotExist},
	} {
		t.Run(c.name, func(t *testing.T) {
			share := filepath.Join(t.TempDir(), "share")
			line, queue := foot.New(), uitest.NewQueue()
			w := uitest.NewWindow(t, container.NewWithoutLayout(line))
			d := New(w, line, queue.Later)
			asked, answers := make(chan string, 8), make(chan error)
			d.share = func(path string) string {
				if strings.HasPrefix(path, share) {
					return share
				}
				return ""
			}
			d.touch = func(path string) error { asked <- path; return <-answers }
			says := func(text string) func() bool {
				return func() bool { return strings.Contains(strings.Join(w.Texts(), "\n"), text) }
			}
			d.OpenPath(Path{Title: "Open", Verb: "Open", Start: t.TempDir(), Endings: []string{".png"}, Done: func(p string) { t.Errorf("opened %s", p) }})
			w.Replace(filepath.Join(share, "isle.png"))
			w.Key(fyne.KeyReturn)
			if want := "Waiting for " + share; !says(want)() {
				t.Errorf("shown is %q, want %q", w.Texts(), want)
			}
			if got, want := <-asked, share+string(filepath.Separator); got != want || len(asked) > 0 {
				t.Errorf("asked for %s and %d more, want %s alone", got, len(asked), want)
			}
			answers <- c.answer
			queue.Until(t, c.want, says(c.want))
			if w.Type("x"); c.answer == fs.ErrNotExist {
				<-asked
				answers <- nil
				queue.Until(t, "the second answer", says("There is no file "))
			}
			if len(asked) > 0 {
				t.Error("asked again after an answer")
			}
		})
	}
}
