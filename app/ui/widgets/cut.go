package widgets

// CutMiddle shortens a name to n letters: names of sheets differ at their beginning or
// at their end.
func CutMiddle(name string, n int) string {
	runes := []rune(name)
	if len(runes) <= n {
		return name
	}
	head := (n - 1) / 2
	return string(runes[:head]) + "…" + string(runes[len(runes)-(n-1-head):])
}
