package figures

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"legwright/assets/field"
)

// rounds is how often the two programs of a comparison run in turn.
const rounds = 5

// Project compares one million rows through the program's project command
// with cs2cs on the same file.
func Project(ctx context.Context, bin, dir string) (Figure, error) {
	input := filepath.Join(dir, "project.txt")
	// Zone 30 north: three degrees either side of 3° west.
	if err := writePlaces(input, 1_000_000, 0, 84, -6, 0); err != nil {
		return Figure{}, err
	}
	own, peer, err := alternate(ctx, input,
		[]string{bin, "project", "--grid", "EPSG:32630", "--datum", "own"},
		[]string{"cs2cs", "EPSG:4326", "EPSG:32630"})
	return Against("project_million_rows", own, peer, "s", 0.4), err
}

// Field compares 100,000 rows through the program's field command with
// GeographicLib's MagneticField on the same coefficients.
func Field(ctx context.Context, bin, dir string) (Figure, error) {
	input := filepath.Join(dir, "field.txt")
	if err := writePlaces(input, 100_000, -80, 80, -180, 180); err != nil {
		return Figure{}, err
	}
	rows, err := parseCoefficients(field.WMM2025())
	if err != nil {
		return Figure{}, err
	}
	if err := writePeerModel(dir, "peer", 2025, rows); err != nil {
		return Figure{}, err
	}
	own, peer, err := alternate(ctx, input,
		[]string{bin, "field", "--date", "2026-11-25"},
		[]string{"MagneticField", "-d", dir, "-n", "peer", "-t", "2026-11-25"})
	return Against("field_100k_rows", own, peer, "s", 0.25), err
}

// parseCoefficients reads the embedded table: n m g h dg dh.
func parseCoefficients(table string) ([]coefficient, error) {
	var out []coefficient
	for line := range strings.Lines(table) {
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "epoch") {
			continue
		}
		var c coefficient
		if _, err := fmt.Sscan(line, &c.n, &c.m, &c.g, &c.h, &c.dg, &c.dh); err != nil {
			return nil, fmt.Errorf("coefficient row %q: %w", line, err)
		}
		out = append(out, c)
	}
	if len(out) != 90 {
		return nil, fmt.Errorf("the model has %d rows, want 90", len(out))
	}
	return out, nil
}

// writePlaces writes rows of latitude and longitude drawn from a fixed seed.
func writePlaces(name string, n int, south, north, west, east float64) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	rng := rand.New(rand.NewPCG(1, 2))
	for range n {
		fmt.Fprintf(w, "%.9f %.9f\n", south+rng.Float64()*(north-south), west+rng.Float64()*(east-west))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return f.Close()
}

// alternate runs two commands in turn on the same input and returns the
// median wall time of each in seconds.
func alternate(ctx context.Context, input string, own, peer []string) (ownS, peerS float64, err error) {
	var a, b []float64
	for range rounds {
		for _, c := range []struct {
			args []string
			to   *[]float64
		}{{own, &a}, {peer, &b}} {
			s, err := timed(ctx, input, c.args)
			if err != nil {
				return 0, 0, err
			}
			*c.to = append(*c.to, s)
		}
	}
	return Median(a), Median(b), nil
}

// timed runs a command with the file as its input and returns the seconds it
// took. A command that writes fewer lines than it read has not done the job.
func timed(ctx context.Context, input string, args []string) (float64, error) {
	in, err := os.Open(input)
	if err != nil {
		return 0, err
	}
	defer in.Close()
	var lines lineCounter
	var complaint bytes.Buffer
	cmd := exec.CommandContext(ctx, args[0], args[1:]...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = in, &lines, &complaint
	began := time.Now()
	if err := cmd.Run(); err != nil {
		return 0, fmt.Errorf("%s: %w: %s", strings.Join(args, " "), err, complaint.String())
	}
	took := time.Since(began).Seconds()
	if lines.n < 100_000 {
		return 0, fmt.Errorf("%s wrote %d lines only", strings.Join(args, " "), lines.n)
	}
	return took, nil
}

// lineCounter is a writer that only counts lines.
type lineCounter struct{ n int }

func (l *lineCounter) Write(p []byte) (int, error) {
	l.n += bytes.Count(p, []byte{'\n'})
	return len(p), nil
}
