package desk

import (
	"context"
	"os"
	"testing"

	"railsum/calc"
	"railsum/library"
)

// The test program is also a desk: with asDesk set it opens the notebook that
// asDesk names; with asLook too, it only looks.
const (
	asDesk = "RAILSUM_TEST_DESK"
	asLook = "RAILSUM_TEST_LOOK"
)

func TestMain(m *testing.M) {
	if file, ok := os.LookupEnv(asDesk); ok {
		os.Exit(Run(context.Background(), Config{
			File: file, Look: os.Getenv(asLook) != "", Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Getenv: os.Getenv,
			Library: func(dir string) calc.Library { return library.At(dir) },
		}))
	}
	os.Exit(m.Run())
}
