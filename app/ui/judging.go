package ui

import (
	"context"

	"legwright/app/session"
	"legwright/app/ui/jobs"
)

// judgeBeside has sheets judged beside the window where that takes long; the latest wins.
func (b *Bench) judgeBeside() {
	slot := jobs.NewSlot(b.later)
	b.s.JudgeBeside(func(w *session.Judging) {
		slot.Start("Judging the sheet", func(context.Context, func(jobs.Progress)) error {
			w.Do()
			return nil
		}, func(error) { b.s.EndJudging(w) })
	})
}
