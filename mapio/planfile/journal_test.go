package planfile

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

func openJournal(t testing.TB, dir, doc string) *Journal {
	t.Helper()
	j := OpenJournal([]string{dir}, doc)
	if err := j.Err(); err != nil {
		t.Fatal(err)
	}
	return j
}

func pending(t testing.TB, dir string) []Recovery {
	t.Helper()
	r, err := Pending([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// kill ends a journal as a crash does: the lock goes, the files stay.
func kill(t testing.TB, j *Journal) {
	t.Helper()
	must(t, j.Flush())
	j.mu.Lock()
	j.closed = true
	j.wake.Broadcast()
	j.mu.Unlock()
	<-j.done
	must(t, errors.Join(j.file.f.Close(), j.file.lock.Close()))
}

func TestWhatWasNotSavedComesBack(t *testing.T) {
	began := time.Now().Truncate(time.Second)
	t.Parallel()
	dir := t.TempDir()
	j := openJournal(t, dir, "/plans/isle.legplan")
	base := plan.Stamp{ModTime: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), Size: 7, SHA256: [32]byte{1, 2, 3}}
	j.Document("/plans/isle.legplan", base)
	j.Append("add mark", isle().SetTitle("one"))
	j.Append("move mark", isle().SetTitle("two"))
	if got := pending(t, dir); len(got) != 0 {
		t.Fatalf("a living bench's journal is offered: %v", got)
	}
	kill(t, j)
	got := pending(t, dir)
	if len(got) != 1 {
		t.Fatalf("%d journals are offered, want 1", len(got))
	}
	r := got[0]
	if r.Plan.Title != "two" || r.Path != "/plans/isle.legplan" || r.Base != base || strings.Join(r.Steps, ", ") != "add mark, move mark" || r.At.Before(began) {
		t.Errorf("offered %+v of %q", r, r.Plan.Title)
	}
	if len(r.Plan.Legs) != 2 || r.Plan.Legs[0] != isle().Legs[0] {
		t.Errorf("the legs came back as %+v", r.Plan.Legs)
	}
	if err := r.Discard(); err != nil {
		t.Error(err)
	}
	if left := files(t, dir); left != "" {
		t.Errorf("after discarding there is still %q", left)
	}
}

func TestDamagedTailsArePassedOver(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		harm func(string) string
		want string // title recovered, "" for nothing
	}{
		{"whole", func(s string) string { return s }, "two"},
		{"cut off in the last line", func(s string) string { return s[:len(s)-100] }, "one"},
		{"no line end", func(s string) string { return strings.TrimSuffix(s, "\n") }, "two"},
		{"zeros behind", func(s string) string { return s + strings.Repeat("\x00", 4096) }, "two"},
		{"rubbish behind", func(s string) string { return s + "{]}\n\n\xff\n" }, "two"},
		{"rubbish between", func(s string) string { return strings.Replace(s, "\n", "\nrubbish\n", 1) }, "two"},
		{"last plan invalid", func(s string) string {
			i := strings.LastIndex(s, `"speed_kmh":4`)
			return s[:i] + `"speed_kmh":-4` + s[i+len(`"speed_kmh":4`):]
		}, "one"},
		{"a newer line behind", func(s string) string { return s + "{\"journal\":2,\"plan\":{}}\n" }, "two"},
		{"all rubbish", func(string) string { return "rubbish" }, ""},
	} {
		dir := t.TempDir()
		j := openJournal(t, dir, "")
		j.Append("a", isle().SetTitle("one"))
		j.Append("b", isle().SetTitle("two"))
		kill(t, j)
		name := j.file.f.Name()
		if err := os.WriteFile(name, []byte(c.harm(read(t, name))), 0o600); err != nil {
			t.Fatal(err)
		}
		title := ""
		if got := pending(t, dir); len(got) > 0 {
			title = got[0].Plan.Title
		}
		if title != c.want {
			t.Errorf("%s: recovered %q, want %q", c.name, title, c.want)
		}
	}
}

func TestSavingClearsTheJournal(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	j := openJournal(t, dir, "")
	j.Append("a", isle())
	j.Clear()
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	if got := read(t, j.file.f.Name()); got != "" {
		t.Errorf("after Clear the journal holds %q", got)
	}
	j.Append("after", isle().SetTitle("after"))
	kill(t, j)
	if got := pending(t, dir); len(got) != 1 || got[0].Plan.Title != "after" || len(got[0].Steps) != 1 {
		t.Errorf("offered %+v, want the act after saving only", got)
	}
}

func TestClosing(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	empty, full := openJournal(t, dir, ""), openJournal(t, dir, "")
	full.Append("a", isle())
	if err := errors.Join(empty.Close(), full.Close(), full.Close()); err != nil {
		t.Fatal(err)
	}
	full.Append("too late", isle())
	if got := pending(t, dir); len(got) != 1 || got[0].Steps[0] != "a" {
		t.Errorf("offered %v, want the one that was closed without saving", got)
	}
	dead := openJournal(t, dir, "")
	kill(t, dead)
	pending(t, dir)
	if _, err := os.Stat(dead.file.f.Name()); err == nil {
		t.Error("a dead journal that holds nothing was left")
	}
}

// While the disk stands still, appending does not wait, and in the end the
// latest plan is what is written.
func TestAppendNeverWaits(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	j, p := openJournal(t, dir, ""), isle()
	j.Append("first", p)
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	j.mu.Lock() // the writer cannot take anything now
	for i := range maxWaiting + 10 {
		if len(j.waiting) >= maxWaiting {
			j.waiting[len(j.waiting)-1] = entry{step: fmt.Sprint(i), p: p.SetTitle(fmt.Sprint(i)), at: time.Now()}
			continue
		}
		j.waiting = append(j.waiting, entry{step: fmt.Sprint(i), p: p.SetTitle(fmt.Sprint(i)), at: time.Now()})
	}
	j.mu.Unlock()
	const acts = 2000
	for i := range acts {
		j.Append("drag", p.SetTitle(fmt.Sprint("act ", i)))
	}
	kill(t, j)
	if got := pending(t, dir); len(got) != 1 || got[0].Plan.Title != fmt.Sprint("act ", acts-1) {
		t.Errorf("the latest act is not the one that was kept: %v", got)
	}
}

func TestJournalsStayInBounds(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	track := plan.Track{ID: "track-2", Points: make([]geodesy.LatLon, 20_000)}
	for i := range track.Points {
		track.Points[i] = geodesy.DegLatLon(57.123456, -7+float64(i)*1e-6)
	}
	big := isle().AddTrack(track)
	j := openJournal(t, dir, "")
	for i := range 40 {
		j.Append("act", big.SetTitle(fmt.Sprint(i)))
		if err := j.Flush(); err != nil {
			t.Fatal(err)
		}
	}
	size := j.file.size
	kill(t, j)
	info, err := os.Stat(j.file.f.Name())
	if err != nil || info.Size() != size || size > compactBytes+2<<20 {
		t.Errorf("the journal has %v bytes, counted %d, want at most %d", info.Size(), size, compactBytes+2<<20)
	}
	if got := pending(t, dir); len(got) != 1 || got[0].Plan.Title != "39" {
		t.Error("the last act was lost in cutting the journal down")
	}
}

// What was saved or discarded while the folder was away is forgotten once it is
// back, and is not offered as unsaved work.
func TestClearingIsTriedAgain(t *testing.T) {
	t.Parallel()
	top := t.TempDir()
	dir, away := filepath.Join(top, "state"), filepath.Join(top, "away")
	j := openJournal(t, dir, "")
	j.Append("act", isle())
	must(t, j.Flush())
	must(t, os.Rename(dir, away))
	must(t, os.WriteFile(dir, nil, 0o600)) // so that it cannot be made again
	j.Clear()
	if err := j.Flush(); err == nil {
		t.Fatal("cleared, though the folder is away")
	}
	must(t, errors.Join(os.Remove(dir), os.Rename(away, dir), j.retried(), j.Close()))
	if got := pending(t, dir); len(got) != 0 {
		t.Errorf("offered %+v, want nothing", got)
	}
}

// retried has the journal try again, and returns how that ended.
func (j *Journal) retried() error {
	j.Retry()
	return j.Flush()
}

// A journal whose file takes nothing any more begins another one with all that
// is to be kept.
func TestABrokenFileIsReplaced(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	j := openJournal(t, dir, "")
	j.Append("a", isle().SetTitle("one"))
	must(t, j.Flush())
	must(t, j.file.f.Close()) // as if the disk had gone
	j.Append("b", isle().SetTitle("two"))
	kill(t, j)
	if got := pending(t, dir); len(got) != 1 || got[0].Plan.Title != "two" {
		t.Errorf("offered %v, want the last act and no older journal", got)
	}
}

// Where no folder can be, the journal says so as long as it is so, and has the
// newest plan once there is one.
func TestAFaultLastsUntilTheFolderIsThere(t *testing.T) {
	t.Parallel()
	top := t.TempDir()
	state := filepath.Join(top, "state")
	must(t, os.WriteFile(state, nil, 0o600))
	j := OpenJournal([]string{filepath.Join(state, "legwright")}, "")
	var told atomic.Int32
	j.OnFault(func() { told.Add(1) })
	if j.Err() == nil {
		t.Fatal("a journal below a file has no error")
	}
	for _, title := range []string{"one", "two"} {
		j.Append("act", isle().SetTitle(title))
		if err := j.Flush(); err == nil || !strings.Contains(err.Error(), state) {
			t.Fatalf("Flush = %v, want an error that names %s", err, state)
		}
	}
	must(t, os.Remove(state))
	must(t, j.retried())
	if told.Load() != 1 {
		t.Errorf("told %d times, want once, of the end", told.Load())
	}
	kill(t, j)
	got, err := Pending([]string{filepath.Join(top, "none"), filepath.Join(state, "legwright")})
	if err != nil || len(got) != 1 || got[0].Plan.Title != "two" {
		t.Errorf("offered %v, %v, want the newest plan", got, err)
	}
	if err := OpenJournal(nil, "").Close(); err == nil {
		t.Error("a journal without a folder has no error")
	}
}

// The second folder serves where the first cannot be, and both are looked
// through.
func TestTheSecondFolderServes(t *testing.T) {
	t.Parallel()
	top := t.TempDir()
	file := filepath.Join(top, "file")
	must(t, os.WriteFile(file, nil, 0o600))
	dirs := []string{filepath.Join(file, "state"), filepath.Join(top, "config")}
	one := OpenJournal(dirs, "")
	one.Append("act", isle().SetTitle("second folder"))
	kill(t, one)
	must(t, os.Remove(file))
	two := OpenJournal(dirs, "")
	two.Append("act", isle().SetTitle("first folder"))
	kill(t, two)
	got, err := Pending(dirs)
	must(t, err)
	if len(got) != 2 || got[0].Plan.Title != "first folder" || got[1].Plan.Title != "second folder" {
		t.Errorf("offered %v, want the work of both folders, the newest first", got)
	}
}

// A folder that is deleted while the bench runs is made again.
func TestADeletedFolderIsMadeAgain(t *testing.T) {
	t.Parallel()
	for name, doing := range map[string]func(j *Journal){
		"at the next look": (*Journal).Retry,
		"at the next act":  func(j *Journal) { j.Append("b", isle().SetTitle("now")) },
	} {
		dir := filepath.Join(t.TempDir(), "state")
		j := openJournal(t, dir, "")
		j.Append("a", isle().SetTitle("now"))
		must(t, j.Flush())
		must(t, os.RemoveAll(dir))
		doing(j)
		kill(t, j)
		if got := pending(t, dir); len(got) != 1 || got[0].Plan.Title != "now" {
			t.Errorf("%s: offered %v, want the plan", name, got)
		}
	}
}

// A plan that is saved while the journal cannot be written is not offered once
// it can.
func TestSavedWhileTheJournalFails(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "state")
	must(t, os.WriteFile(dir, nil, 0o600))
	j := OpenJournal([]string{dir}, "")
	j.Append("a", isle())
	j.Clear()
	if j.Flush() == nil {
		t.Fatal("no error below a file")
	}
	must(t, os.Remove(dir))
	must(t, j.retried())
	kill(t, j)
	if got := pending(t, dir); len(got) != 0 {
		t.Errorf("offered %v, want nothing", got)
	}
}

// A line that takes the place of all others never leaves the file without a
// whole one, wherever the writing stops.
func TestOverwritingLosesNothing(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	j := openJournal(t, dir, "")
	for _, title := range []string{"a", "b", "c", "last"} {
		j.Append("act", isle().SetTitle(title))
		must(t, j.Flush())
	}
	text, err := entry{step: "act", at: time.Now(), p: isle().SetTitle("new")}.encode()
	must(t, err)
	before := []byte(read(t, j.file.f.Name()))
	step := 1
	if testing.Short() {
		step = 61 // reading a journal starts no goroutine
	}
	for n := 0; n <= len(text); n += step {
		half := append(append([]byte{}, text[:n]...), before[n:]...)
		if r, ok := readJournal(half); !ok || r.Plan.Title != "last" {
			t.Fatalf("after %d of %d bytes: %v, want the plan from before", n, len(text), r)
		}
	}
	must(t, j.file.overwrite(text))
	if got := read(t, j.file.f.Name()); got != string(text) {
		t.Errorf("the file holds %d bytes, want the new line's %d", len(got), len(text))
	}
	kill(t, j)
}

// A real process writes its journal and is killed; another journal is written
// beside it all the while.
func TestACrashOfARealProcess(t *testing.T) {
	if dir := os.Getenv("PLANFILE_TEST_CRASH"); dir != "" {
		j := openJournal(t, dir, "")
		j.Append("act", isle().SetTitle("before the crash"))
		if err := j.Flush(); err != nil {
			t.Fatal(err)
		}
		fmt.Println("written")
		time.Sleep(time.Minute)
		return
	}
	dir := t.TempDir()
	mine := openJournal(t, dir, "")
	mine.Append("mine", isle())
	cmd := exec.Command(os.Args[0], "-test.run=^TestACrashOfARealProcess$")
	cmd.Env = append(os.Environ(), "PLANFILE_TEST_CRASH="+dir)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if said, err := bufio.NewReader(out).ReadString('\n'); err != nil || said != "written\n" {
		t.Fatalf("the other process said %q, %v", said, err)
	}
	if got := pending(t, dir); len(got) != 0 {
		t.Errorf("%d journals are offered while both processes live", len(got))
	}
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = cmd.Wait() // it was killed: that is its error
	if got := pending(t, dir); len(got) != 1 || got[0].Plan.Title != "before the crash" {
		t.Errorf("offered %v, want what the killed process left", got)
	}
	if err := mine.Close(); err != nil {
		t.Error(err)
	}
}

func FuzzReadJournal(f *testing.F) {
	e := entry{step: "act", at: time.Unix(0, 0), p: isle()}
	good, err := e.encode()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add([]byte("{\"journal\":1}\n{\"journal\":1,\"base\":{\"sha256\":\"zz\"},\"plan\":{\"format\":\"legwright-plan\",\"version\":1}}\n"))
	f.Fuzz(func(t *testing.T, in []byte) {
		r, ok := readJournal(in)
		if ok && r.Plan.Validate() != nil {
			t.Fatal("an invalid plan was recovered")
		}
	})
}
