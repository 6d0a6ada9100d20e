package field_test

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"legwright/assets/field"
)

var tables = []struct{ name, text, sum, official string }{
	{"WMM2025", field.WMM2025(), "ef902c2e1936465b279980aa11760c0b5b6ee0408dddde608060b4ec8b05d781", "WMM2025.COF"},
	{"WMM2020", field.WMM2020(), "9700c6078910153cfc81f6e6e3ca5c9cf4b54c78358155f33b775ccccfb56712", "WMM2020.COF"},
}

// TestTablesAreWhatWasChecked holds the bytes to those that were compared with
// the publishers' coefficient files row by row.
func TestTablesAreWhatWasChecked(t *testing.T) {
	t.Parallel()
	for _, c := range tables {
		sum := sha256.Sum256([]byte(c.text))
		if got := hex.EncodeToString(sum[:]); got != c.sum {
			t.Errorf("%s: SHA-256 got %s, want %s", c.name, got, c.sum)
		}
	}
}

// TestTablesEqualOfficialFiles compares every coefficient with the publishers'
// own file (NOAA NCEI and BGS, WMM2025.COF of 13 November 2024 and WMM2020.COF
// of 10 December 2019).
func TestTablesEqualOfficialFiles(t *testing.T) {
	t.Parallel()
	folder := os.Getenv("LEGWRIGHT_REFERENCE")
	if folder == "" {
		t.Skip("LEGWRIGHT_REFERENCE is not set: the official coefficient files are not here, the checksum test stands in")
	}
	for _, c := range tables {
		data, err := os.ReadFile(filepath.Join(folder, "magnetic", c.official))
		if err != nil {
			t.Fatal(err)
		}
		got, want := rows(t, c.text), rows(t, string(data))
		if len(got) != 90 || len(want) != 90 {
			t.Fatalf("%s: got %d rows, official %d, want 90 each", c.name, len(got), len(want))
		}
		for i := range want {
			if !slices.Equal(got[i], want[i]) {
				t.Errorf("%s row %d: got %v, want %v", c.name, i, got[i], want[i])
			}
		}
	}
}

// rows reads the lines of six numbers and passes over all others, such as
// comments, the header and the closing lines of nines.
func rows(t *testing.T, text string) [][]float64 {
	t.Helper()
	var out [][]float64
	for line := range strings.Lines(text) {
		fields := strings.Fields(line)
		if len(fields) != 6 || strings.HasPrefix(line, "#") {
			continue
		}
		row := make([]float64, len(fields))
		for i, f := range fields {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				t.Fatalf("%q: %v", line, err)
			}
			row[i] = v
		}
		out = append(out, row)
	}
	return out
}
