package scan

import (
	"errors"
	"testing"

	"legwright/mapio/kml"
	"legwright/mapio/pdf"
	"legwright/mapio/tiff"
)

// TestErrorsOfTwoKinds: an error that is of two kinds is always told as the
// same one.
func TestErrorsOfTwoKinds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		put  func(error) error
		err  error
		want error
		not  error
	}{
		{pdfFault, errors.Join(pdf.ErrTooLarge, pdf.ErrEncrypted), ErrUnsupported, ErrTooLarge},
		{tiffError, errors.Join(tiff.ErrTooLarge, tiff.ErrTruncated), ErrTruncated, ErrTooLarge},
		{kmlFault, errors.Join(kml.ErrDamaged, kml.ErrMissing), ErrLink, ErrCorrupt},
	} {
		for range 100 {
			if got := c.put(c.err); !errors.Is(got, c.want) || errors.Is(got, c.not) || !errors.Is(got, c.err) {
				t.Fatalf("%v: got %v, want %v", c.err, got, c.want)
			}
		}
	}
}
