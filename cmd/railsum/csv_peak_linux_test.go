package main

import (
	"os"
	"syscall"
)

// peakKB is how much memory a program had resident at most.
func peakKB(s *os.ProcessState) int64 { return s.SysUsage().(*syscall.Rusage).Maxrss }
