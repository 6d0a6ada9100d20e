package ask

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"golang.org/x/sys/windows"
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

func TestShareOf(t *testing.T) {
	t.Parallel()
	for path, want := range map[string]string{
		`\\server\maps\isle.png`: `\\server\maps`, `C:\maps\isle.png`: "", `isle.png`: "", ``: "",
	} {
		if got := shareOf(path); got != want {
			t.Errorf("%s: got %q, want %q", path, got, want)
		}
	}
}

// What Windows hides is not listed.
func TestHiddenFoldersAreNotListed(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for _, name := range []string{"seen", "unseen"} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	unseen, err := windows.UTF16PtrFromString(filepath.Join(dir, "unseen"))
	if err != nil {
		t.Fatal(err)
	}
	if err := windows.SetFileAttributes(unseen, windows.FILE_ATTRIBUTE_HIDDEN); err != nil {
		t.Fatal(err)
	}
	rows, err := readFolder(dir, func(string) bool { return true })
	if want := []fileRow{{"seen", true}}; err != nil || !slices.Equal(rows, want) {
		t.Errorf("got %v, %v, want %v", rows, err, want)
	}
}
