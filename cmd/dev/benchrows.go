package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"legwright/assets/field"
)

// rowGroups are the figures of converting many rows.
func rowGroups() []group {
	return []group{
		// Against cs2cs in zone 30 north, three degrees either side of 3° west.
		one(atMost("project_million_rows", "s", 0.4), func(ctx context.Context, m *measuring) []float64 {
			return m.rows(ctx, places{1_000_000, 0, 84, -6, 0},
				[]string{"project", "--grid", "EPSG:32630", "--datum", "own"}, []string{"cs2cs", "EPSG:4326", "EPSG:32630"})
		}),
		// Against GeographicLib's MagneticField on the same coefficients.
		one(atMost("field_100k_rows", "s", 0.25), func(ctx context.Context, m *measuring) []float64 {
			m.err = writePeerModel(m.dir, 2025, field.WMM2025())
			return m.rows(ctx, places{100_000, -80, 80, -180, 180},
				[]string{"field", "--date", "2026-11-25"}, []string{"MagneticField", "-d", m.dir, "-n", "peer", "-t", "2026-11-25"})
		}),
	}
}

// places describes random rows of latitude and longitude, from a fixed seed,
// between bounds in degrees.
type places struct {
	rows                     int
	south, north, west, east float64
}

func (p places) write(name string) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	w, dice := bufio.NewWriter(f), rand.New(rand.NewPCG(1, 2))
	for range p.rows {
		fmt.Fprintf(w, "%.9f %.9f\n", p.south+dice.Float64()*(p.north-p.south), p.west+dice.Float64()*(p.east-p.west))
	}
	return errors.Join(w.Flush(), f.Close())
}

// rows gives the program and its peer the same rows in turn. A run that writes
// fewer lines than it reads is an error.
func (m *measuring) rows(ctx context.Context, p places, own, peer []string) []float64 {
	bin, input := m.program(ctx, "./cmd/legwright"), filepath.Join(m.dir, "rows.txt")
	m.err = errors.Join(m.err, p.write(input))
	run := func(name string, args []string) job {
		return func() (float64, error) {
			in, err := os.Open(input)
			if err != nil {
				return 0, err
			}
			defer in.Close()
			var lines lineCounter
			cmd := exec.CommandContext(ctx, name, args...)
			cmd.Stdin, cmd.Stdout = in, &lines
			s, err := seconds(cmd)
			if err == nil && int(lines) < p.rows {
				err = fmt.Errorf("%s wrote %d lines, want %d", name, lines, p.rows)
			}
			return s, err
		}
	}
	return m.inTurn(5, run(bin, own), run(peer[0], peer[1:]))
}

// lineCounter is a writer that only counts lines.
type lineCounter int

func (l *lineCounter) Write(p []byte) (int, error) {
	*l += lineCounter(bytes.Count(p, []byte{'\n'}))
	return len(p), nil
}

// degree is the degree of the magnetic models.
const degree = 12

// series are the cosine and sine coefficients of a model by degree and order,
// Schmidt semi-normalised, in nT, then their change in nT a year.
type series [4][degree + 1][degree + 1]float64

// parseSeries reads the embedded table: n m g h dg dh.
func parseSeries(table string) (s series, err error) {
	rows := 0
	for line := range strings.Lines(table) {
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "epoch") {
			continue
		}
		var n, m int
		var c [4]float64
		if _, err := fmt.Sscan(line, &n, &m, &c[0], &c[1], &c[2], &c[3]); err != nil {
			return s, fmt.Errorf("coefficient row %q: %w", line, err)
		}
		for i := range c {
			s[i][n][m] = c[i]
		}
		rows++
	}
	if rows != 90 {
		return s, fmt.Errorf("the model has %d rows, want 90", rows)
	}
	return s, nil
}

// writePeerModel writes the model in the two files that GeographicLib's
// MagneticField reads as "peer" (format WMMF-1 in that library's
// documentation), so that both programs evaluate the same coefficients.
func writePeerModel(dir string, epoch float64, table string) error {
	s, err := parseSeries(table)
	if err != nil {
		return err
	}
	const id = "LEGWPEER"
	meta := fmt.Sprintf("WMMF-1\nName peer\nDescription World Magnetic Model\nReleaseDate 2024-11-13\nRadius 6371200\n"+
		"NumModels 1\nEpoch %g\nDeltaEpoch 5\nMinTime %g\nMaxTime %g\nMinHeight -1000\nMaxHeight 850000\n"+
		"Type linear\nNormalization schmidt\nByteOrder little\nID %s\n", epoch, epoch, epoch+5, id)
	out := []byte(id)
	for i := range s {
		if i%2 == 0 {
			out = binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(out, degree), degree)
		}
		for m := i % 2; m <= degree; m++ { // column by column; no sine has order 0
			for n := m; n <= degree; n++ {
				out, _ = binary.Append(out, binary.LittleEndian, s[i][n][m]) // floats do not fail
			}
		}
	}
	at := filepath.Join(dir, "peer.wmm")
	return errors.Join(os.WriteFile(at, []byte(meta), 0o600), os.WriteFile(at+".cof", out, 0o600))
}
