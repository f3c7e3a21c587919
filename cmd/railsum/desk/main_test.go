package desk

import (
	"context"
	"os"
	"testing"
	"time"

	"railsum/calc"
	"railsum/library"
)

// The test program is also a desk: with asDesk set it opens the notebook that
// asDesk names; with asLook too, it only looks, and with asPatient no study is too slow
// to be asked again.
const (
	asDesk    = "RAILSUM_TEST_DESK"
	asLook    = "RAILSUM_TEST_LOOK"
	asPatient = "RAILSUM_TEST_PATIENT"
)

func TestMain(m *testing.M) {
	if file, ok := os.LookupEnv(asDesk); ok {
		if os.Getenv(asPatient) != "" {
			enough = time.Minute
		}
		os.Exit(Run(context.Background(), Config{
			File: file, Look: os.Getenv(asLook) != "", Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Getenv: os.Getenv,
			Library: func(dir string) calc.Library { return library.At(dir) },
		}))
	}
	os.Exit(m.Run())
}
