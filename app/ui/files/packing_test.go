package files_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"legwright/app/plan"
)

// A packed plan opens by one click into a folder of its name; a second time the bench asks, and
// overwrites nothing.
func TestPackedPlanOpens(t *testing.T) {
	b := calibrated(t)
	b.leg(b.mark("Quay", 50, 50), b.mark("Hut", 150, 50))
	pack := filepath.Join(t.TempDir(), "walk.legpack")
	b.Packing.Pack()
	if b.window.Shows("is packed; a file with no part") {
		t.Error("a plan without terrain speaks of cutting it")
	}
	b.typeInto(pack)
	b.until("the pack", func() bool { return strings.Contains(b.foot.Message(), "Packed walk.legpack: the plan and 1 picture") })

	other := stand(t)
	folder := strings.TrimSuffix(pack, ".legpack")
	opened := func(name string) func() bool {
		return func() bool { return other.s.Path() == name && !other.Opener.Reading() }
	}
	other.Opener.Open(pack)
	other.until("the plan", opened(filepath.Join(folder, "walk.legplan")))
	if p := other.s.Plan(); len(p.Legs) != 1 || !strings.HasPrefix(p.Sheets[0].Picture, folder) {
		t.Errorf("%d legs, picture %s", len(p.Legs), p.Sheets[0].Picture)
	}
	for answer, name := range map[string]string{"Open the plan there": filepath.Join(folder, "walk.legplan"), "Unpack next to it": filepath.Join(folder+" 2", "walk 2.legplan")} {
		do(t, other.s.Use(plan.New(plan.Date{})))
		other.Opener.Open(pack)
		other.asked("where to")
		other.answer(answer)
		other.until(answer, opened(name))
	}
	bad := filepath.Join(t.TempDir(), "bad.legpack")
	do(t, os.WriteFile(bad, []byte("no pack"), 0o600))
	other.Opener.Open(bad)
	other.until("the refusal", func() bool { return !other.Packing.Busy() && other.dialogs.Waiting() })
	if left, _ := os.ReadDir(filepath.Dir(bad)); len(left) != 1 {
		t.Errorf("%v is left of a bad pack", left)
	}
}
