//go:build !linux

package planes

// reserve gives nil: New makes ordinary memory then.
func reserve(int) []byte { return nil }

func giveBack([]byte) {}

func unmap([]byte) {}
