//go:build !windows

package ask

import (
	"io/fs"
	"path/filepath"
	"strings"
)

// drives are none: every folder lies below one top.
func drives() []string { return nil }

// twoStrokes stand where a path from the root was typed behind another.
const twoStrokes = string(filepath.Separator) + string(filepath.Separator)

// asTyped returns the whole path that was typed behind the folder in the field, else the text.
func asTyped(text string) string {
	if at := strings.Index(text, twoStrokes); at > 0 && text[0] == filepath.Separator && at+2 < len(text) {
		return text[at+1:]
	}
	return text
}

// lacksShare is false: a path names no server.
func lacksShare(string) bool { return false }

// shareOf is "": which folders a server holds is not known.
func shareOf(string) string { return "" }

// isHidden is false: a hidden entry begins with a dot.
func isHidden(fs.DirEntry) bool { return false }
