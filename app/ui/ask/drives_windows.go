package ask

import (
	"io/fs"
	"path/filepath"
	"strings"
	"syscall"

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
// folder in the field, of a drive or of a server.
func asTyped(text string) string {
	text = filepath.FromSlash(strings.Trim(text, `"`))
	text = text[strings.LastIndex(text, `"`)+1:]
	if at := strings.LastIndex(text, `:\`); at > 1 {
		return text[at-1:]
	}
	if at := strings.LastIndex(text, `\\\`); at >= 0 { // the folder's stroke, then the server's two
		return text[at+1:]
	}
	return text
}

// lacksShare reports whether a path on a server ends before its folder. Looking for it would
// ask the network for each letter that is typed, and stop the window until it answers.
func lacksShare(text string) bool {
	return strings.HasPrefix(text, `\\`) && strings.Count(text, `\`) < 4
}

// shareOf returns the share of a server, or the drive that stands for one, on which a path lies,
// such as \\server\maps, and "" for a path on this machine.
func shareOf(path string) string {
	volume := filepath.VolumeName(path)
	if strings.HasPrefix(volume, `\\`) {
		return volume
	}
	top, err := windows.UTF16PtrFromString(volume + `\`)
	if volume == "" || err != nil || windows.GetDriveType(top) != windows.DRIVE_REMOTE {
		return ""
	}
	return volume
}

// isHidden reports whether Windows hides an entry of a folder, such as AppData.
func isHidden(e fs.DirEntry) bool {
	info, err := e.Info()
	if err != nil {
		return false
	}
	data, ok := info.Sys().(*syscall.Win32FileAttributeData)
	return ok && data.FileAttributes&windows.FILE_ATTRIBUTE_HIDDEN != 0
}
