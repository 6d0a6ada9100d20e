package planfile

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"legwright/app/geodesy"
	"legwright/app/plan"
)

func openJournal(t testing.TB, dir, doc string) *Journal {
	t.Helper()
	j, err := OpenJournal(dir, doc)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func pending(t testing.TB, dir string) []Recovery {
	t.Helper()
	r, err := Pending(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// kill ends a journal as a crash does: the lock goes, the files stay.
func kill(t testing.TB, j *Journal) {
	t.Helper()
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(j.file.f.Close(), j.file.lock.Close()); err != nil {
		t.Fatal(err)
	}
}

func TestWhatWasNotSavedComesBack(t *testing.T) {
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
	if r.Plan.Title != "two" || r.Path != "/plans/isle.legplan" || r.Base != base || strings.Join(r.Steps, ", ") != "add mark, move mark" || time.Since(r.At) > time.Minute {
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
		name := j.file.name + journalExt
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
	if got := read(t, j.file.name+journalExt); got != "" {
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
	if _, err := os.Stat(dead.file.name + journalExt); err == nil {
		t.Error("a dead journal that holds nothing was left")
	}
}

// While the disk stands still, appending does not wait, and in the end the
// latest plan is what is written.
func TestAppendNeverWaits(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	j := openJournal(t, dir, "")
	j.Append("first", isle())
	if err := j.Flush(); err != nil {
		t.Fatal(err)
	}
	j.mu.Lock() // the writer cannot take anything now
	for i := range maxWaiting + 10 {
		if len(j.waiting) >= maxWaiting {
			j.waiting[len(j.waiting)-1] = entry{step: fmt.Sprint(i), p: isle().SetTitle(fmt.Sprint(i)), at: time.Now()}
			continue
		}
		j.waiting = append(j.waiting, entry{step: fmt.Sprint(i), p: isle().SetTitle(fmt.Sprint(i)), at: time.Now()})
	}
	j.mu.Unlock()
	const acts = 2000
	for i := range acts {
		j.Append("drag", isle().SetTitle(fmt.Sprint("act ", i)))
	}
	kill(t, j)
	if got := pending(t, dir); len(got) != 1 || got[0].Plan.Title != fmt.Sprint("act ", acts-1) {
		t.Errorf("the latest act is not the one that was kept: %v", got)
	}
}

func TestJournalsStayInBounds(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	track := plan.Track{Points: make([]geodesy.LatLon, 20_000)}
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
	info, err := os.Stat(j.file.name + journalExt)
	if err != nil || info.Size() != size || size > compactBytes+2<<20 {
		t.Errorf("the journal has %v bytes, counted %d, want at most %d", info.Size(), size, compactBytes+2<<20)
	}
	if got := pending(t, dir); len(got) != 1 || got[0].Plan.Title != "39" {
		t.Error("the last act was lost in cutting the journal down")
	}
}

func TestWriteErrorsAreTold(t *testing.T) {
	t.Parallel()
	j := openJournal(t, t.TempDir(), "")
	if err := j.file.f.Close(); err != nil { // as if the disk had gone
		t.Fatal(err)
	}
	j.Append("a", isle())
	if err := j.Flush(); err == nil || j.Err() == nil {
		t.Error("a journal that cannot be written says nothing")
	}
	_ = j.Close()
}

func TestOpenJournalWhereNoFolderCanBe(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenJournal(filepath.Join(file, "state"), ""); err == nil {
		t.Error("OpenJournal under a file: no error")
	}
	if got, err := Pending(filepath.Join(file, "..", "none")); err != nil || got != nil {
		t.Errorf("Pending without a folder = %v, %v, want nothing", got, err)
	}
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
