// Command manpage writes the program's manual page for a day:
//
//	go run ./cmd/internal/manpage 2026-11-28
package main

import (
	"fmt"
	"os"
	"time"

	"legwright/cmd/internal/headless"
)

func main() {
	if err := write(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "manpage:", err)
		os.Exit(1)
	}
}

func write(args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("want a day, such as 2026-11-28")
	}
	day, err := time.Parse(time.DateOnly, args[0])
	if err != nil {
		return err
	}
	return headless.Manual(os.Stdout, day)
}
