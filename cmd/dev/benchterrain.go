package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

// terrainGroups are the figures of terrain beside those of the window's frames.
func terrainGroups() []group {
	return []group{
		{do: terrainPair, figures: []figure{atMost("terrain_pair", "s", 0.5), atMost("terrain_pair_peak", "MB", 150)}},
		one(atMost("terrain_60_profiles", "ms", 20), func(ctx context.Context, m *measuring) []float64 {
			return []float64{m.benchmark(ctx, "./mapio/dem", "BenchmarkSixtyProfiles") / 1e6}
		}),
	}
}

// terrainPair asks the program for one height from two files of 3,601 × 3,601 posts, and
// notes the time from start to end and the most memory that it had.
func terrainPair(ctx context.Context, m *measuring) {
	const side = 3601
	bin := m.program(ctx, "./cmd/legwright")
	var args []string
	for i, name := range []string{"N56W006.hgt", "N56W005.hgt"} {
		file := filepath.Join(m.dir, name)
		m.err = errors.Join(m.err, os.WriteFile(file, madeHGT(side, i), 0o600))
		args = append(args, "--terrain", file)
	}
	peak := 0.0
	took := m.inTurn(5, func() (float64, error) {
		var out bytes.Buffer
		cmd := exec.CommandContext(ctx, bin, append([]string{"height", "--grid", "EPSG:27700"}, args...)...)
		cmd.Stdin, cmd.Stdout = strings.NewReader("184500 740500\n246000 739000\n"), &out
		s, err := seconds(cmd)
		if lines := bytes.Count(out.Bytes(), []byte{'\n'}); err == nil && lines != 2 {
			err = fmt.Errorf("it gave %d heights, want 2", lines)
		}
		if err == nil {
			peak = math.Max(peak, peakMB(cmd.ProcessState))
		}
		return s, err
	})
	m.put("terrain_pair", took...)
	m.put("terrain_pair_peak", peak)
}

// benchmark runs a benchmark of a room and returns its nanoseconds for one turn.
func (m *measuring) benchmark(ctx context.Context, room, name string) (ns float64) {
	text, err := m.r.capture(ctx, "go", "test", "-run", "^$", "-bench", "^"+name+"$", room)
	for line := range strings.Lines(text) {
		if f := strings.Fields(line); len(f) > 3 && strings.HasPrefix(f[0], name) && f[3] == "ns/op" {
			ns, err = strconv.ParseFloat(f[2], 64)
		}
	}
	if err == nil && ns == 0 {
		err = errors.New("the benchmark printed no time")
	}
	m.err = errors.Join(m.err, err)
	return ns
}

// madeHGT is the content of a file of side × side heights that rise and fall.
func madeHGT(side, phase int) []byte {
	out := make([]byte, 0, 2*side*side)
	for row := range side {
		for col := range side {
			h := 400 + 300*math.Sin(float64(row)/90)*math.Cos(float64(col+phase*(side-1))/70)
			out = binary.BigEndian.AppendUint16(out, uint16(int16(h)))
		}
	}
	return out
}
