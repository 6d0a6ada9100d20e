// Command demosheet draws the demo sheet and its scan and writes them, with the exact
// relation of both to the grid and the heights of the ground, into assets/demo:
//
//	go run ./cmd/demosheet [-out FOLDER]
//
// A second run on the same kind of processor writes the same bytes.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"legwright/assets/demo"
	"legwright/cmd/demosheet/internal/ground"
	"legwright/cmd/demosheet/internal/ink"
	"legwright/cmd/demosheet/internal/sheet"
)

const scanQuality = 90

func main() {
	out := flag.String("out", filepath.Join("assets", "demo"), "folder to write to")
	flag.Parse()
	if err := run(*out); err != nil {
		fmt.Fprintln(os.Stderr, "demosheet:", err)
		os.Exit(1)
	}
}

func run(dir string) error {
	country := ground.Build()
	pic, err := sheet.Draw(country)
	if err != nil {
		return err
	}
	clean, err := ink.EncodePNG(pic, demo.SheetTruth().DPI)
	if err != nil {
		return fmt.Errorf("encode the sheet: %w", err)
	}
	scan, err := ink.EncodeJPEG(sheet.Scan(pic), scanQuality, int(demo.ScanTruth().DPI))
	if err != nil {
		return fmt.Errorf("encode the scan: %w", err)
	}
	truth, err := truthFile()
	if err != nil {
		return fmt.Errorf("encode the truth: %w", err)
	}
	posts, err := terrainFile(country)
	if err != nil {
		return fmt.Errorf("encode the terrain: %w", err)
	}
	for _, f := range []struct {
		name string
		data []byte
	}{
		{demo.SheetName, clean}, {demo.ScanName, scan}, {demo.TerrainName, posts}, {demo.TruthName, truth},
	} {
		if err := os.WriteFile(filepath.Join(dir, f.name), f.data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// truthFile writes the relation of both pictures to the grid as JSON.
func truthFile() ([]byte, error) {
	data, err := json.MarshalIndent(map[string]any{
		"note":  "E = a*col + b*row + c, N = d*col + e*row + f; pixels from the top-left corner of the top-left pixel; metres",
		"sheet": demo.SheetTruth(),
		"scan":  demo.ScanTruth(),
	}, "", "  ")
	return append(data, '\n'), err
}
