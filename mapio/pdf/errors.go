package pdf

import (
	"errors"
	"fmt"

	pdfium "github.com/klippa-app/go-pdfium/errors"
)

// The kinds of failure; the errors of this package wrap one of them, except
// for those of an ended context, which are passed on.
var (
	// ErrEncrypted: the document wants a password or a scheme not known here.
	ErrEncrypted = errors.New("the PDF is protected by a password")
	// ErrNoPages: the document has no page.
	ErrNoPages = errors.New("the PDF has no pages")
	// ErrNoPage: the page asked for does not exist.
	ErrNoPage = errors.New("the PDF does not have this page")
	// ErrDamaged: the content is not a readable PDF.
	ErrDamaged = errors.New("the PDF is damaged")
	// ErrTooLarge: file or page is beyond the limits.
	ErrTooLarge = errors.New("the PDF is too large")
	// ErrEngine: the renderer could not be started or broke down.
	ErrEngine = errors.New("the PDF renderer failed")
)

// explainOpen puts the renderer's refusal into words for people.
func explainOpen(err error) error {
	switch {
	case errors.Is(err, pdfium.ErrPassword):
		return fmt.Errorf("%w: open it in a PDF reader with its password and print it to an unprotected PDF first", ErrEncrypted)
	case errors.Is(err, pdfium.ErrSecurity):
		return fmt.Errorf("%w, or in a way that is not supported: open it in a PDF reader and print it to an unprotected PDF first", ErrEncrypted)
	case errors.Is(err, pdfium.ErrFormat), errors.Is(err, pdfium.ErrFile), errors.Is(err, pdfium.ErrPage),
		errors.Is(err, pdfium.ErrUnknown), errors.Is(err, pdfium.ErrSuccess):
		return fmt.Errorf("%w: its structure cannot be read; copy it again from the original", ErrDamaged)
	}
	return fmt.Errorf("%w: %w", ErrEngine, err)
}
