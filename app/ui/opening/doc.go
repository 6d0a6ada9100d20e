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
// "rest" is the state without a job: Whole or Copy if a picture is shown, else Failed
// if the plan has a sheet, else Empty. "before" is Looking if the picture that was
// shown before the job must be read again, else rest.
//
//	from                 what happens                                  to
//	any                  a job starts (Open, Add, Find, an answer)     Looking
//	any                  another sheet or plan                         Looking, or rest without a picture to read
//	Looking              the preview comes                             Preview
//	Looking, Preview     the picture comes, and may be used            Usable
//	Looking, Preview     the picture comes, and a question with it     Asking
//	Looking, Preview     the reading fails                             before
//	Looking              the file is not there, the store has a copy   Usable, then Copy
//	Asking               agreed                                        Usable, or Whole if the reading has ended
//	Asking               declined, or the reading fails                before
//	Usable               the reading ends                              Whole
//	Usable               the reading fails, the picture is stored      Copy
//	Usable               the reading fails                             before; the plan goes back if it is unchanged since
//	Usable, Asking       the file is not what the store holds          Looking, without the store
//	any with a job       cancelled                                     before; the plan goes back
package opening
