package planes

import "golang.org/x/sys/unix"

// reserve maps n bytes that belong to no file, or gives nil.
func reserve(n int) []byte {
	b, err := unix.Mmap(-1, 0, n, unix.PROT_READ|unix.PROT_WRITE, unix.MAP_ANON|unix.MAP_PRIVATE)
	if err != nil {
		return nil
	}
	return b
}

// giveBack returns whole pages, which read as zeros from then on.
func giveBack(b []byte) { _ = unix.Madvise(b, unix.MADV_DONTNEED) } // memory that stays is no fault

func unmap(b []byte) { _ = unix.Munmap(b) } // fails for nothing that reserve gave
