//go:build unix

package openfile

import "syscall"

func makePipe(name string) error { return syscall.Mkfifo(name, 0o600) }
