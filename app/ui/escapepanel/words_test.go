package escapepanel

import (
	"strings"
	"testing"
	"time"

	"legwright/app/caution"
	"legwright/app/escape"
	"legwright/app/plan"
)

// What speaks against a turn-back time has the same word as the row of its escape in the ledger.
func TestTurnBackNamesTheVerdict(t *testing.T) {
	t.Parallel()
	s := escape.Stage{Name: "Cairn", TurnBack: time.Date(2026, 11, 28, 14, 0, 0, 0, time.UTC), Escapes: []plan.ID{"off"}}
	for _, c := range []struct {
		draft bool
		code  caution.Code
		want  string
	}{
		{true, caution.EscapeDraft, "marked DRAFT. Do not rely on it."},
		{false, caution.EscapeNoHaven, "marked STOP. Do not rely on it."},
		{false, caution.DriftNotJudged, ""},
	} {
		e := escape.Escape{ID: "off", Name: "E01-1", Chosen: true, Draft: c.draft, Cautions: []caution.Caution{caution.Of(c.code)}}
		words := stageWords(s, escape.Judged{Escapes: []escape.Escape{e}})
		if last := words[len(words)-1].text; !strings.HasSuffix(last, c.want) || (len(words) > 1) != (c.want != "") {
			t.Errorf("%s: %d sentences, the last one %q", c.code, len(words), last)
		}
	}
}
