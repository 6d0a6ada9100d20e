// Package opening leads from the file of a picture to the picture on the sheet. It is
// one state machine, the Desk, without a window: the window tells it what a person
// wants (open this file, cancel, this answer), it reads files on goroutines of its
// own, and tells its Host what the sheet shows now, how far it is, what came of it,
// and what only a person can decide. It draws nothing and writes no sentence except in
// errors.
//
// # What must hold
//
// The picture on the sheet is always that of the sheet in hand: the desk listens to
// the session, and takes a picture away in the moment in which the plan changes to
// another one. Bearings read on the wrong picture would look right.
//
// A picture can be looked at before the hash of its file is known, but nothing is read
// off it or set on it until then: it may be another picture than the plan was made on.
//
// A picture outside the plan's folder is opened by the desk alone, after it asked. Ask
// Withheld before touching its path, even with os.Stat.
//
// A damaged picture is refused, however late the damage is found. What its opening did
// to the plan is undone; if the plan was changed since, only the picture goes.
//
// What becomes of a picture is settled before it is read, or by an answer: no code
// waits in a variable. A job carries its Use, and what it did to the plan.
//
// # States
//
// A job is one opening, from the wish to its end. Two things are beside the state:
// what was on the sheet before the job stays there while the desk is looking, unless
// it is so large that it must make room; and a question that does not concern a
// picture that waits (which sheet, outside the folder, missing, which page) may be
// open in any state.
//
//	state    the sheet shows                        what is under way
//	Empty    nothing; the plan has no sheet         nothing
//	Looking  what it showed before, or nothing      a file is read
//	Preview  a preview, to be looked at only        the file is read; its hash is not known
//	Asking   nothing, or what it showed before      a picture waits for an answer; its file may still be read
//	Usable   the picture, sharp in part             the rest is read
//	Whole    the picture                            nothing
//	Copy     a copy from the store                  nothing; the file cannot be read
//	Failed   nothing; the sheet's picture is known  nothing
//
// # Transitions
//
// A test checks every step of random sequences against this table, and every entry of it
// must be met. "start" is a job that starts: a person opens, adds or finds a picture or
// chooses a page, or the next of several dropped files follows. "plan" is another sheet
// in hand, or another plan. "agree" and "decline" answer the question about a picture
// that waits. "stale" is a file that is not what the store holds, and "missing" one that
// is not there: a copy from the store comes first, if there is one.
//
//	what     from                              to
//	start    any                               Looking
//	plan     any                               Looking Failed Empty
//	preview  Looking                           Preview
//	picture  Looking Preview                   Usable Asking
//	ends     Usable                            Whole
//	ends     Asking                            Asking
//	fails    Looking Preview Asking            Looking Whole Failed Empty
//	fails    Usable                            Looking Failed Empty Copy
//	agree    Asking                            Usable Whole
//	decline  Asking                            Looking Whole Failed
//	cancel   Looking Preview Asking            Looking Whole Failed Empty
//	cancel   Usable                            Looking Failed Empty
//	stale    Usable Asking                     Looking
//	missing  Looking                           Failed
//	missing  Usable                            Copy
//
// Where a job comes to nothing it leads back: to Looking if the picture before must be
// read again, to Whole if it is still there, to Failed if the plan's sheet has none that
// could be shown, to Empty without a sheet. What the job did to the plan is undone,
// unless the plan was changed since its picture was shown.
package opening
