package windowtest

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"legwright/app/plan"
	"legwright/assets/demo"
	"legwright/cmd/internal/xdisplay"
	"legwright/mapio/planfile"
)

// TestJudgeKill tries the judge of a kill on made ones: a, b and c are plans
// one after the other, a long ago, b and c at so many milliseconds before the
// kill.
func TestJudgeKill(t *testing.T) {
	t.Parallel()
	killed := time.Date(2026, 11, 28, 12, 0, 0, 0, time.UTC)
	ago := func(ms int) time.Time { return killed.Add(-time.Duration(ms) * time.Millisecond) }
	left := func(title string) planfile.Recovery {
		return planfile.Recovery{Plan: plan.New(plan.Date{Year: 2026, Month: 11, Day: 28}).SetTitle(title), At: ago(5000)}
	}
	for _, c := range []struct {
		name     string
		b, c     int // milliseconds before the kill
		saved    bool
		drag     int // milliseconds before the kill that c's drag ended, 0 for none
		left     []string
		survived bool
	}{
		{"the newest", 900, 800, false, 0, []string{"c"}, true},
		{"one that was replaced a moment ago", 900, 100, false, 0, []string{"b"}, true},
		{"one that was replaced long ago", 900, 800, false, 0, []string{"b"}, false},
		{"two acts in a moment", 200, 100, false, 0, []string{"a"}, true},
		{"older than a moment", 600, 100, false, 0, []string{"a"}, false},
		{"another plan", 900, 100, false, 0, []string{"d"}, false},
		{"nothing of unsaved work", 900, 100, false, 0, nil, false},
		{"nothing of saved work", 900, 800, true, 0, nil, true},
		{"two journals", 900, 800, false, 0, []string{"c", "b"}, false},
		{"before a drag that has not ended", 900, 800, false, 1, []string{"b"}, true},
		{"before a drag that ended", 900, 800, false, 700, []string{"b"}, false},
	} {
		var states []xdisplay.PlanState
		for i, title := range []string{"a", "b", "c"} {
			s, err := textOf(left(title))
			must(t, err)
			s.At, s.Dirty = []time.Time{ago(5000), ago(c.b), ago(c.c)}[i], !c.saved
			s.Drag = i == 2 && c.drag > 0
			states = append(states, s)
		}
		var list []planfile.Recovery
		for _, title := range c.left {
			list = append(list, left(title))
		}
		said, err := judgeKill(states, list, killed, ago(c.drag))
		if (err == nil) != c.survived {
			t.Errorf("%s: %q, %v, want survived %v", c.name, said, err, c.survived)
		}
	}
	if _, err := judgeKill([]xdisplay.PlanState{{At: ago(1), Plan: "x", Dirty: true}}, []planfile.Recovery{left("a")}, killed, killed); err == nil || !strings.Contains(err.Error(), "never had") {
		t.Errorf("an unknown plan: %v", err)
	}
}

// TestInItsFile compares a saved plan with its file, which also remembers that
// the sheet was checked.
func TestInItsFile(t *testing.T) {
	t.Parallel()
	p, err := planfile.Decode(bytes.NewReader(demo.Plan()))
	must(t, err)
	path := filepath.Join(t.TempDir(), "walk.legplan")
	_, err = planfile.NewStore().Save(path, p.StampSaved(time.Now()).Remembering(func(plan.ID) bool { return true }), plan.Overwrite{})
	must(t, err)
	for _, c := range []struct {
		name  string
		noted *plan.Plan
		want  bool
	}{
		{"the plan that was saved", p.Remembering(func(plan.ID) bool { return false }), true},
		{"another title", p.SetTitle("another"), false},
	} {
		var text strings.Builder
		must(t, planfile.Encode(&text, c.noted))
		if got := inItsFile(xdisplay.PlanState{Path: path, Plan: text.String()}); got != c.want {
			t.Errorf("%s: in its file %v, want %v", c.name, got, c.want)
		}
	}
}
