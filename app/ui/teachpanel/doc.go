// Package teachpanel is the Teach panel's part below the dial: a coach stands before a
// group, the sheet is on a screen, and a bearing becomes something that one sees. It
// holds the jobs of a lesson, one of which is seen at a time, each a section of its own
// in its own files: it shows a line with its words and figures, has the group guess, and
// so on. Sections draw over the sheet by sheetview's layers and take its keys while the
// panel is in front.
//
// A lesson is not part of the plan: it is neither saved nor undone, and nothing that is
// made up for teaching reaches a plan, a ledger or a GPX. What a bearing means is not
// computed here: that is app/teach.
//
// A new job is a type in section_NAME.go that meets section, and with letters of its own
// lettered; its constant, words and hint in section.go, and its row in New. Chooser and
// menu follow. It shows no figure while stage.concealed, and judges nothing where a stop
// stands against the reading. What is to stand beside the sheet, or in the dial's place,
// while the job is seen is an object that Panel.Beside or Panel.Words hands out and the
// job shows and hides. The stage keeps the lesson's line, the selected leg and the
// line just dragged one and the same.
//
// # Keys
//
// On the sheet and on every control but a field, letters are the acts that hints name, and
// a digit begins to type into the field of the job: a bearing, guesses; the steps of the
// compass are digits themselves. Return accepts a field and goes on to the next one that
// is still empty, or else to the sheet; that for guesses keeps the keys for the next ones. In
// an empty field of figures letters act, for no figure begins with one.
package teachpanel
