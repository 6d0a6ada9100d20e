package planes

import "golang.org/x/sys/unix"

// reserve maps n anonymous bytes, or returns nil.
func reserve(n int) []byte {
	b, err := unix.Mmap(-1, 0, n, unix.PROT_READ|unix.PROT_WRITE, unix.MAP_ANON|unix.MAP_PRIVATE)
	if err != nil {
		return nil
	}
	return b
}

// giveBack returns whole pages to the system; they read as zeros afterwards.
func giveBack(b []byte) { _ = unix.Madvise(b, unix.MADV_DONTNEED) } // on failure the memory just stays

func unmap(b []byte) { _ = unix.Munmap(b) } // cannot fail for memory from reserve
