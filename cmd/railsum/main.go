// Command railsum is a notebook of sums for whoever looks after the electrics
// of a model railway layout: at a desk with a prompt, or in batch for files,
// scripts and pipes.
//
// Model: a thin main gives run everything of the outside world; run builds the
// commands, each of which reads lines, has calc answer them and writes through
// package show. Answers go to standard output, everything else to standard
// error.
//
// Exit codes: 0 all is well; 1 something is wrong with what was computed (a
// line in error, a must that fails or has no verdict); 2 wrong use; 3 a file
// cannot be read or written or has changed underneath; 4 a file is damaged or
// from a newer railsum; 130 interrupted.
//
// Goals: one way to say each thing, the same output in every locale, scripts
// that keep working (--json and --plain only ever gain).
//
// Non-goals: computing anything; knowing the language; network, telemetry,
// configuration files.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
)

// world is all that the program takes from outside, so that a test can give it.
type world struct {
	args           []string
	stdin          io.Reader
	stdout, stderr io.Writer
	getenv         func(string) string
	dir            string // where relative names start
}

// memory is how much the program takes before it rather tidies up than take more.
const memory = 230 << 20

func main() {
	debug.SetMemoryLimit(memory)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := run(ctx, world{
		args:   os.Args[1:],
		stdin:  os.Stdin,
		stdout: os.Stdout,
		stderr: os.Stderr,
		getenv: os.Getenv,
		dir:    ".",
	})
	stop()
	os.Exit(code)
}
