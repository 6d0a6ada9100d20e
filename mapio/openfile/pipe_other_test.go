//go:build !unix

package openfile

import "errors"

func makePipe(string) error { return errors.New("this system has no named pipes in folders") }
