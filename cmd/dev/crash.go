package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"legwright/cmd/internal/windowtest"
)

// runKills kills the bench at work and compares what it restores:
// kills [N [SEED]].
func runKills(ctx context.Context, r *runner, args []string) error {
	n, seed, err := countAndSeed(args)
	if err != nil {
		return err
	}
	return r.withBench(ctx, func(bin, dir string) error {
		k := windowtest.Kills{Bin: bin, Dir: dir, Seed: seed, Out: r.out}
		return k.Run(ctx, n)
	})
}

// runCloses closes the bench in every way: closes [N].
func runCloses(ctx context.Context, r *runner, args []string) error {
	n, _, err := countAndSeed(args)
	if err != nil {
		return err
	}
	return r.withBench(ctx, func(bin, dir string) error {
		return windowtest.Closes(ctx, bin, dir, n, r.out)
	})
}

// countAndSeed reads N and SEED; by default they are 20 and 1.
func countAndSeed(args []string) (n int, seed uint64, err error) {
	n, seed = 20, 1
	if len(args) > 0 {
		n, err = strconv.Atoi(args[0])
	}
	if err == nil && len(args) > 1 {
		seed, err = strconv.ParseUint(args[1], 10, 64)
	}
	if err != nil || n < 1 {
		return 0, 0, fmt.Errorf("give a whole number above 0 for N and a whole number for SEED, not %q", args)
	}
	return n, seed, nil
}

// withBench builds the program and gives it an empty folder.
func (r *runner) withBench(ctx context.Context, do func(bin, dir string) error) error {
	if err := r.install(ctx, append(buildPackages(), testPackages()...)); err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "legwright-crash")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	bin := filepath.Join(dir, programName())
	if err := r.build(ctx, bin, buildTag); err != nil {
		return err
	}
	home := filepath.Join(dir, "home")
	if err := os.Mkdir(home, 0o700); err != nil {
		return err
	}
	return do(bin, home)
}
