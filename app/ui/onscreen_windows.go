package ui

import (
	"unsafe"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver"
	"golang.org/x/sys/windows"
)

// Of user32.dll.
var (
	user32           = windows.NewLazySystemDLL("user32.dll")
	getWindowRect    = user32.NewProc("GetWindowRect")
	setWindowPos     = user32.NewProc("SetWindowPos")
	monitorOf        = user32.NewProc("MonitorFromWindow")
	getMonitorInfo   = user32.NewProc("GetMonitorInfoW")
	nearestMonitor   = uintptr(2)          // MONITOR_DEFAULTTONEAREST
	neitherZNorFocus = uintptr(0x4 | 0x10) // SWP_NOZORDER, SWP_NOACTIVATE
)

// monitorInfo is MONITORINFO of Windows.
type monitorInfo struct {
	size          uint32
	Whole, Usable rect
	flags         uint32
}

// keepOnScreen brings a window that is larger than its screen, or lies partly outside, into what
// the taskbar leaves of the screen. Elsewhere the window manager does so; here the
// title and the menus of a large window would lie above the screen's edge.
func keepOnScreen(w fyne.Window) {
	native, ok := w.(driver.NativeWindow)
	if !ok {
		return
	}
	native.RunNative(func(context any) {
		c, ok := context.(driver.WindowsWindowContext)
		if !ok {
			return
		}
		var at rect
		info := monitorInfo{size: uint32(unsafe.Sizeof(monitorInfo{}))}
		monitor, _, _ := monitorOf.Call(c.HWND, nearestMonitor)
		if done, _, _ := getWindowRect.Call(c.HWND, uintptr(unsafe.Pointer(&at))); done == 0 {
			return
		}
		if done, _, _ := getMonitorInfo.Call(monitor, uintptr(unsafe.Pointer(&info))); done == 0 {
			return
		}
		if to := at.within(info.Usable); to != at {
			setWindowPos.Call(c.HWND, 0, uintptr(to.Left), uintptr(to.Top), uintptr(to.Right-to.Left), uintptr(to.Bottom-to.Top), neitherZNorFocus)
		}
	})
}
