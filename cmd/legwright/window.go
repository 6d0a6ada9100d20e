//go:build !headless

package main

import (
	"errors"
	"fmt"
	"os"
	"runtime"
	"strings"

	"legwright/app/ui"
	_ "legwright/cmd/internal/plainlocale" // before the window library looks at the language
)

// demoArgument opens the bench on the demo.
const demoArgument = ui.DemoArgument

// errNoScreen: the bench cannot open a window.
var errNoScreen = errors.New("there is no screen to open a window on (DISPLAY names none that answers); legwright --help lists what works without one")

// openBench opens the bench until its window is closed. The window library
// panics where there is no screen; that is an error here.
func openBench(args []string) (err error) {
	if screenless(runtime.GOOS, os.Getenv) {
		return errNoScreen
	}
	defer func() {
		if r := recover(); r != nil {
			if !strings.Contains(fmt.Sprint(r), "GLFW library is not initialized") {
				panic(r)
			}
			err = errNoScreen
		}
	}()
	return ui.Run(args)
}

// screenless reports whether the system names no screen at all. Windows and
// macOS have one without naming it.
func screenless(goos string, getenv func(string) string) bool {
	return goos != "windows" && goos != "darwin" && getenv("DISPLAY") == "" && getenv("WAYLAND_DISPLAY") == ""
}
