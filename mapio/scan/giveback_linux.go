package scan

import (
	"os"
	"syscall"
	"unsafe"
)

// giveBack returns the memory under b to the system while b is still in
// use: from then on it reads as zeros. Only whole pages within b go, and a
// system that refuses leaves everything as it was.
func giveBack(b []uint8) {
	page := os.Getpagesize()
	skip := int(-uintptr(unsafe.Pointer(unsafe.SliceData(b))) & uintptr(page-1))
	if n := (len(b) - skip) / page * page; n > 0 {
		_ = syscall.Madvise(b[skip:skip+n], syscall.MADV_DONTNEED) // memory that stays is no fault
	}
}
