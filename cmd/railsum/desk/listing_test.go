package desk

import (
	"errors"
	"fmt"
	"testing"
)

// A long text ends at the row at which somebody stops it, its error is handed on, and a panic of it is the caller's.
func TestListing(t *testing.T) {
	rows := 0
	l := &listing{stopped: func() bool { return rows == 7 }}
	left := false
	if err := l.written(func() error {
		defer func() { left = true }()
		for ; ; rows++ {
			fmt.Fprintln(l, rows)
		}
	}); err != nil || rows != 7 || !left || l.String() != "0\n1\n2\n3\n4\n5\n6\n" {
		t.Errorf("%v, %d rows, left %v: %q", err, rows, left, l.String())
	}
	whole := &listing{stopped: func() bool { return false }}
	wrong := errors.New("wrong")
	if err := whole.written(func() error { return wrong }); err != wrong {
		t.Error(err)
	}
	defer func() {
		if recover() != "spilt" {
			t.Error("a panic is lost")
		}
	}()
	_ = whole.written(func() error { panic("spilt") })
}
