// Package teachpanel is the Teach panel's part below the dial: a coach stands before a
// group, the sheet is on a screen, and a bearing becomes something that one sees. It
// holds the jobs of a lesson, one of which is seen at a time, each a section of its own
// in its own files: it shows a line with its words and figures, has the group guess, and
// so on. Sections draw over the sheet by sheetview's layers and take its keys while the
// panel is in front.
//
// A lesson is no part of the plan: it is neither saved nor undone, and nothing that is
// made up for teaching reaches a plan, a ledger or a GPX. What a bearing means is not
// computed here: that is app/teach.
package teachpanel
