// Package session is what is open now: the plan with its history, the file it
// came from, the selection. It has one method for each intention of the user,
// and every one either does the whole act, as one step that can be undone, or
// returns a sentence that says why not and leaves everything as it was.
//
// It does not draw, ask or open windows, and it opens no files: Store and
// Journal do that for it. A Session belongs to one goroutine, the bench's main
// one; the plans and readers it hands out are immutable and may go anywhere.
//
// While a control point moves its sheet waits to be judged: everything read off it
// carries a stop, and every room hears of the first move (see Change.Passing).
// A sheet with many points is not even fitted until the point rests (see loose.go), and
// is then fitted and judged beside the window (see JudgeBeside). Whoever saves or exports
// calls Settle first, and takes the verdicts from Judged.
//
// More than a few legs of escapes are judged beside the window too, and none while anything
// moves. Until then Escapes says that they wait; whoever exports judges them by itself.
package session
