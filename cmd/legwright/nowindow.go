//go:build headless

package main

import "errors"

// demoArgument is no argument of a program without a window.
const demoArgument = ""

func openBench([]string) error {
	return errors.New("this program was built without a window; legwright --help lists what it does")
}
