//go:build !linux

package planes

// reserve returns nil, so that New makes ordinary memory.
func reserve(int) []byte { return nil }

func giveBack([]byte) {}

func unmap([]byte) {}
