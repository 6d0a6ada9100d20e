package ui

import (
	"context"
	"sync"

	"legwright/app/session"
	"legwright/app/ui/jobs"
)

// judgeBeside has sheets and escapes judged beside the window where that takes long; the
// latest wins.
// One is judged at a time: one that is of no more use takes a moment to return, and
// several would leave the window no processor.
func (b *Bench) judgeBeside() {
	slot, one := jobs.NewSlot(b.program.later), new(sync.Mutex)
	b.s.JudgeBeside(func(w *session.Judging) {
		slot.Start("Judging", func(ctx context.Context, _ func(jobs.Progress)) error {
			one.Lock()
			defer one.Unlock()
			if ctx.Err() == nil {
				w.Do()
			}
			return ctx.Err()
		}, func(error) { b.s.EndJudging(w) })
	})
}
