// Package papers shows the papers of a plan page by page before they are printed, saves them as
// PDF and hands them to the system's viewer, which prints them. What a paper says and how it is
// laid out is mapio/card's.
//
// # The preview is the paper
//
// The PDF is made first, and mapio/pdf draws the page shown from its bytes: the same bytes
// are saved and handed on, and nothing is made twice. Making and drawing are one job
// beside the window. A changed choice replaces the job. If the job fails, the page disappears and the
// bar says why, so that a page that cannot be printed is never shown.
//
// # Traps
//
// The renderer holds one document at a time, so a document is opened for each drawing and closed
// after it. A paper shows the figures that a lesson hides: while they are concealed no page is shown.
package papers
