// Package history is undo and redo over plans. A plan is an immutable value,
// so a step is a plan and a name. It holds no inverse operations and knows
// nothing of what is in a plan.
package history

import "legwright/app/plan"

// step is a plan and the name of the act that led to it.
type step struct {
	name string
	key  string // acts with the same key may merge while the step is open
	open bool
	p    *plan.Plan
}

// History is a bounded list of plans with a place in it. It is not safe for
// concurrent use.
type History struct {
	steps []step // steps[0] is the oldest plan kept; its name is of no use
	at    int    // index of the plan that holds now
	limit int    // how many steps can be undone
}

// New returns a history that begins with p and can undo limit steps, at least
// one.
func New(p *plan.Plan, limit int) *History {
	return &History{steps: []step{{p: p}}, limit: max(limit, 1)}
}

// Now returns the plan that holds now.
func (h *History) Now() *plan.Plan { return h.steps[h.at].p }

// Do makes p the plan that holds now, as a step with that name. What could be
// redone is forgotten, and so is the oldest step where there are too many. A
// plan that is the present one already is no step.
func (h *History) Do(name string, p *plan.Plan) { h.push(step{name: name, p: p}) }

// Merge is Do for the many changes of one drag: it replaces the present step
// where that was made by Merge with the same name and key and has not been
// sealed, so that undo takes the whole drag back at once.
func (h *History) Merge(name, key string, p *plan.Plan) {
	if h.Merges(name, key) {
		h.steps[h.at].p = p
		h.steps = h.steps[:h.at+1]
		return
	}
	h.push(step{name: name, key: key, open: true, p: p})
}

// Merges reports whether Merge with that name and key changes the present step.
func (h *History) Merges(name, key string) bool {
	top := h.steps[h.at]
	return h.at > 0 && top.open && top.name == name && top.key == key
}

// Amend makes p the plan that holds now, within the present step.
func (h *History) Amend(p *plan.Plan) { h.steps[h.at].p = p }

// Seal ends the present step: nothing merges into it any more.
func (h *History) Seal() { h.steps[h.at].open = false }

// Drop takes the present step back and forgets it, where it is still open: a
// drag that was cancelled. It reports whether there was one.
func (h *History) Drop() bool {
	if h.at == 0 || !h.steps[h.at].open {
		return false
	}
	h.at--
	h.steps = h.steps[:h.at+1]
	return true
}

func (h *History) push(s step) {
	if s.p == h.Now() {
		return
	}
	h.Seal()
	h.steps = append(h.steps[:h.at+1], s)
	if over := len(h.steps) - 1 - h.limit; over > 0 {
		h.steps = append([]step(nil), h.steps[over:]...)
	}
	h.at = len(h.steps) - 1
}

// Undo takes the present step back and returns its name. It reports false
// where there is nothing to undo.
func (h *History) Undo() (name string, ok bool) {
	if h.at == 0 {
		return "", false
	}
	h.Seal()
	h.at--
	return h.steps[h.at+1].name, true
}

// Redo makes the next step again and returns its name. It reports false where
// there is nothing to redo.
func (h *History) Redo() (name string, ok bool) {
	if h.at == len(h.steps)-1 {
		return "", false
	}
	h.at++
	return h.steps[h.at].name, true
}

// UndoName returns the name of the step that Undo would take back, or "".
func (h *History) UndoName() string {
	if h.at == 0 {
		return ""
	}
	return h.steps[h.at].name
}

// RedoName returns the name of the step that Redo would make, or "".
func (h *History) RedoName() string {
	if h.at == len(h.steps)-1 {
		return ""
	}
	return h.steps[h.at+1].name
}
