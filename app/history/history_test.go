package history

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"legwright/app/plan"
)

func titled(s string) *plan.Plan { return &plan.Plan{Title: s} }

func TestUndoAndRedoWithNames(t *testing.T) {
	t.Parallel()
	h := New(titled("0"), 10)
	h.Do("add mark", titled("1"))
	h.Do("move mark", titled("2"))
	if got := h.UndoName(); got != "move mark" {
		t.Errorf("UndoName = %q, want move mark", got)
	}
	if name, ok := h.Undo(); name != "move mark" || !ok || h.Now().Title != "1" {
		t.Errorf("Undo = %q, %v at %q, want move mark at 1", name, ok, h.Now().Title)
	}
	if got := h.RedoName(); got != "move mark" {
		t.Errorf("RedoName = %q, want move mark", got)
	}
	if name, ok := h.Redo(); name != "move mark" || !ok || h.Now().Title != "2" {
		t.Errorf("Redo = %q, %v at %q, want move mark at 2", name, ok, h.Now().Title)
	}
	if _, ok := h.Redo(); ok || h.RedoName() != "" {
		t.Error("Redo at the newest step: got one, want none")
	}
	h.Undo()
	h.Do("rename", titled("3"))
	if _, ok := h.Redo(); ok {
		t.Error("Redo after a new act: got one, want none")
	}
}

func TestOneDragIsOneStep(t *testing.T) {
	t.Parallel()
	h := New(titled("start"), 10)
	for i := range 50 {
		h.Merge("move mark", "mark-1", titled(fmt.Sprint(i)))
	}
	h.Seal()
	h.Merge("move mark", "mark-1", titled("second drag"))
	h.Merge("move mark", "mark-2", titled("another mark"))
	for _, want := range []string{"second drag", "49", "start"} {
		if _, ok := h.Undo(); !ok || h.Now().Title != want {
			t.Fatalf("Undo led to %q, want %q", h.Now().Title, want)
		}
	}
}

func TestDropTakesAnOpenDragBack(t *testing.T) {
	t.Parallel()
	h := New(titled("start"), 10)
	h.Merge("move mark", "mark-1", titled("half way"))
	if !h.Drop() || h.Now().Title != "start" || h.RedoName() != "" {
		t.Errorf("Drop: at %q with redo %q, want start and none", h.Now().Title, h.RedoName())
	}
	h.Do("rename", titled("named"))
	if h.Drop() {
		t.Error("Drop of a finished step: done, want refused")
	}
}

func TestSamePlanIsNoStep(t *testing.T) {
	t.Parallel()
	p := titled("same")
	h := New(p, 3)
	h.Do("nothing", p)
	if h.UndoName() != "" {
		t.Errorf("UndoName = %q after no change, want none", h.UndoName())
	}
}

// Against a plain model: the list of all plans, cut to the limit.
func TestHistoryAgainstModel(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.IntRange(1, 5).Draw(t, "limit")
		first := titled("0")
		h, undo, redo, now := New(first, limit), []*plan.Plan{}, []*plan.Plan{}, first
		for i := range rapid.IntRange(0, 40).Draw(t, "acts") {
			switch rapid.IntRange(0, 3).Draw(t, "act") {
			case 0:
				if _, ok := h.Undo(); ok != (len(undo) > 0) {
					t.Fatalf("Undo = %v with %d steps behind", ok, len(undo))
				} else if ok {
					redo, now, undo = append(redo, now), undo[len(undo)-1], undo[:len(undo)-1]
				}
			case 1:
				if _, ok := h.Redo(); ok != (len(redo) > 0) {
					t.Fatalf("Redo = %v with %d steps ahead", ok, len(redo))
				} else if ok {
					undo, now, redo = append(undo, now), redo[len(redo)-1], redo[:len(redo)-1]
				}
			default:
				undo, now, redo = append(undo, now), titled(fmt.Sprint(i+1)), nil
				undo = undo[max(0, len(undo)-limit):]
				h.Do("act", now)
			}
			if h.Now() != now {
				t.Fatalf("Now = %q, want %q", h.Now().Title, now.Title)
			}
		}
	})
}
