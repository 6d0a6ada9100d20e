package ask

import (
	"slices"
	"testing"
)

// A path is read as it is usually typed or pasted on Windows.
func TestAsTyped(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		`C:\maps\isle.png`:             `C:\maps\isle.png`,
		`"C:\my maps\isle.png"`:        `C:\my maps\isle.png`,
		`D:/maps/isle.png`:             `D:\maps\isle.png`,
		`C:\maps\D:\isle.png`:          `D:\isle.png`,
		`C:\maps\"D:\isle.png"`:        `D:\isle.png`,
		`\\server\maps\isle.png`:       `\\server\maps\isle.png`,
		`isle.png`:                     `isle.png`,
		`\\?\C:\maps\isle.png`:         `C:\maps\isle.png`,
		`C:\maps\\\server\maps\i.png`:  `\\server\maps\i.png`,
		`C:\maps\//server/maps/i.png`:  `\\server\maps\i.png`,
		`C:\maps\"\\server\a b\i.png"`: `\\server\a b\i.png`,
		`\\server\maps\\\other\i\`:     `\\other\i\`,
		`\\server\maps\D:\isle.png`:    `D:\isle.png`,
		`C:\maps\\isle.png`:            `C:\maps\\isle.png`,
		`C:\maps\a note: D:\big.png`:   `D:\big.png`,
	} {
		if got := asTyped(text); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
}

// A server's name is not looked up before the share stands behind it.
func TestLacksShare(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{
		`\\`: true, `\\server`: true, `\\server\`: true, `\\server\maps`: true,
		`\\server\maps\`: false, `\\server\maps\isle.png`: false, `C:\maps`: false, ``: false,
	} {
		if got := lacksShare(text); got != want {
			t.Errorf("%s: got %v, want %v", text, got, want)
		}
	}
}

func TestDrives(t *testing.T) {
	t.Parallel()
	if got := drives(); !slices.Contains(got, `C:\`) {
		t.Errorf("got %q, want C:\\ among them", got)
	}
}
