package leg

import (
	"strings"
	"testing"

	"legwright/app/caution"
	"legwright/app/plan"
)

// The leg runs north. A crag 200 m south of its start is met by whoever reads the bearing off the
// wrong end of the needle. So is one 40 m south: that the leg starts near it takes nothing away.
// 400 m are farther than a slip is followed. The mark goes into what is exported.
func TestSlipsOfTheRoute(t *testing.T) {
	t.Parallel()
	for northM, want := range map[float64]bool{-200: true, -40: true, -400: false} {
		p := beside(plan.Crag, "", false, -50, northM, 50, northM)
		row := readerOf(t, p).Legs()[0]
		if got := caution.Has(row.Reading.Cautions, caution.SlipMeets); got != want || row.Reading.Stopped() {
			t.Errorf("a crag at %g m: marked %v, want %v; %v", northM, got, want, row.Reading.Cautions)
		}
		x, err := Export(p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(x.Routes[0][0].Desc, "A compass mistake (read off the wrong end) would lead you to crag h."); got != want {
			t.Errorf("a crag at %g m: exported %v, want %v: %s", northM, got, want, x.Routes[0][0].Desc)
		}
	}
}
