package main

import (
	"os"
	"syscall"
)

// peakMB is the most memory that an ended process had.
func peakMB(p *os.ProcessState) float64 {
	return float64(p.SysUsage().(*syscall.Rusage).Maxrss) * 1024 / 1e6
}
