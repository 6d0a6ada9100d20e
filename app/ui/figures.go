package ui

import (
	"strings"
)

// marked marks a text whose figures nobody may walk on, where there is no room to say
// why.
func marked(text string, stop bool) string {
	if !stop {
		return text
	}
	return strings.TrimSpace("! " + text)
}
