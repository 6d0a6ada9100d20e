package ask

import (
	"slices"
	"testing"
)

// A path is read as it is usually typed or pasted on Windows.
func TestAsTyped(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		`C:\maps\isle.png`:           `C:\maps\isle.png`,
		`"C:\my maps\isle.png"`:      `C:\my maps\isle.png`,
		`D:/maps/isle.png`:           `D:\maps\isle.png`,
		`C:\maps\D:\isle.png`:        `D:\isle.png`,
		`C:\maps\"D:\isle.png"`:      `D:\isle.png`,
		`\\server\maps\isle.png`:     `\\server\maps\isle.png`,
		`isle.png`:                   `isle.png`,
		`\\?\C:\maps\isle.png`:       `C:\maps\isle.png`,
		`C:\maps\a note: D:\big.png`: `D:\big.png`,
	} {
		if got := asTyped(text); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
}

func TestDrives(t *testing.T) {
	t.Parallel()
	if got := drives(); !slices.Contains(got, `C:\`) {
		t.Errorf("got %q, want C:\\ among them", got)
	}
}
