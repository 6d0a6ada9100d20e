// Command demoplan writes the demo plan: it turns the plain data of assets/demo into a
// plan on the embedded scan and stores it beside the pictures:
//
//	go run ./cmd/internal/demoplan [-out FILE]
//
// Run it after cmd/demosheet. It draws nothing and decides nothing: positions and texts
// are those of assets/demo.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"legwright/assets/demo"
	"legwright/mapio/planfile"
)

func main() {
	out := flag.String("out", filepath.Join("assets", "demo", demo.PlanName), "file to write")
	flag.Parse()
	if err := write(*out); err != nil {
		fmt.Fprintln(os.Stderr, "demoplan:", err)
		os.Exit(1)
	}
}

func write(path string) error {
	data, err := encode()
	if err != nil {
		return err
	}
	return os.WriteFile(path, data, 0o644)
}

// encode returns the demo plan as the text of a plan file.
func encode() ([]byte, error) {
	p, err := build()
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	if err := planfile.Encode(&buf, p); err != nil {
		return nil, fmt.Errorf("encode the demo plan: %w", err)
	}
	return buf.Bytes(), nil
}
