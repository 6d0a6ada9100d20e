package ask

import (
	"path/filepath"
	"strings"

	"golang.org/x/sys/windows"
)

// drives are the tops of the drives there are, such as C:\.
func drives() []string {
	mask, err := windows.GetLogicalDrives()
	if err != nil {
		return nil
	}
	var tops []string
	for i := range 26 {
		if mask&(1<<i) != 0 {
			tops = append(tops, string(rune('A'+i))+`:\`)
		}
	}
	return tops
}

// asTyped levels the ways in which a path is written on Windows: the quotes around a path that
// was copied from a folder's window, either stroke, and a whole path that was typed behind the
// folder in the field.
func asTyped(text string) string {
	text = filepath.FromSlash(strings.Trim(text, `"`))
	if at := strings.LastIndex(text, `:\`); at > 1 {
		return text[at-1:]
	}
	return text
}
