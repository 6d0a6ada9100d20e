package pdf

import (
	"bytes"
	"io"
	"testing"
)

// readPages reads the first page's dictionary alone.
func readPages(t testing.TB, data []byte) (Page, error) {
	t.Helper()
	d, err := readDictionary(patient(t), io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data))))
	if err != nil {
		return Page{}, err
	}
	return d.page(1)
}
