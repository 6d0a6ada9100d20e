// Package papers shows the papers of a plan page by page before they are printed, saves them as
// PDF and hands them to the system's viewer, which prints them. What a paper says and how it is
// laid out is mapio/card's.
//
// # The preview is the paper
//
// The PDF is made first, and mapio/pdf draws the page that is shown from its very bytes: those
// are saved and handed on, and nothing is made a second time. Making and drawing are one job
// beside the window. A choice that changes replaces the job; one that fails takes the page away
// and says why, so that no page is ever shown that cannot be printed.
//
// # Traps
//
// The renderer holds one document at a time, so a document is opened for each drawing and closed
// after it. What a lesson hides stands on paper: while figures are concealed nothing is shown.
package papers
