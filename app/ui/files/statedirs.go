package files

import (
	"os"
	"path/filepath"
	"slices"
)

// StateDirs returns the folders that may hold the journal, the preferred one first:
// the state folder of the XDG base directories, its usual location if that exists, and
// the folder for settings. Unsaved work is looked for in all of them, whichever was
// used last time.
func StateDirs() []string {
	var dirs []string
	if dir := os.Getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		dirs = append(dirs, filepath.Join(dir, "legwright"))
	}
	config, err := os.UserConfigDir()
	if home, err := os.UserHomeDir(); err == nil {
		usual := filepath.Join(home, ".local", "state")
		if dir := filepath.Join(usual, "legwright"); isDir(usual) && !slices.Contains(dirs, dir) {
			dirs = append(dirs, dir)
		}
	}
	if err == nil {
		dirs = append(dirs, filepath.Join(config, "legwright", "journal"))
	}
	return dirs
}

func isDir(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
