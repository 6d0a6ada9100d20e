package planfile

import "testing"

// BenchmarkAppend is what an act at the bench waits for its journal.
func BenchmarkAppend(b *testing.B) {
	j := openJournal(b, b.TempDir(), "")
	defer j.Close()
	p := isle()
	for b.Loop() {
		j.Append("drag", p)
	}
}
