package run_test

import (
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"testing"

	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/library"
)

// open checks and computes a text.
func open(t *testing.T, text string) (*check.Checked, *run.Machine) {
	t.Helper()
	lib := library.Shipped()
	c := check.Check(syntax.ParseFile([]byte(text)).Lines, lib)
	for i := range c.Lines {
		if ds, _ := c.Said(i); len(ds) > 0 {
			t.Fatalf("line %d: %s", i+1, ds[0].Message)
		}
	}
	m := run.New(lib)
	m.Load(c)
	m.Compute(0)
	return c, m
}

const twoTables = `x = 2 A
table t | a as A
  one | 1
  two | 10
end
t.b = t.a * x
total = sum(t.b)
rest = 100 / (x - 5 A) / 1 Ω
safe = if x = 5 A then 7 else 1 A / (x - 5 A)
both = x != 5 A and 1 A / (x - 5 A) > 0
`

// The rows of a table and the rows of a study are different axes: a sum adds up
// the former only, and a column keeps its rows whatever is varied.
func TestTwoAxes(t *testing.T) {
	c, m := open(t, twoTables)
	x, b, total := c.Main[0], c.Main[2], c.Main[3]
	study := run.Study{Rows: 3 * run.Block / 2, Want: []*check.Def{b, total}}
	study.Replace(x, func(first int, dst []float64) {
		for i := range dst {
			dst[i] = float64(first + i)
		}
	})
	seen := 0
	err := m.Study(context.Background(), study, func(first, n int, cols []*run.Col) error {
		if cols[0].Rows != 2 || cols[0].Width != n || cols[1].Rows != 1 || cols[1].Width != n {
			t.Fatalf("shapes %d×%d and %d×%d", cols[0].Rows, cols[0].Width, cols[1].Rows, cols[1].Width)
		}
		for w := range n {
			at := float64(first + w)
			one, _ := cols[0].At(0, w)
			two, _ := cols[0].At(1, w)
			sum, _ := cols[1].At(0, w)
			if one != at || two != 10*at || sum != 11*at {
				t.Fatalf("row %v: %v %v %v", at, one, two, sum)
			}
		}
		seen += n
		return nil
	})
	if err != nil || seen != study.Rows {
		t.Fatal(err, seen)
	}
	if v, _ := m.Col(total).At(0, 0); v != 22 || m.Col(total).Width != 1 {
		t.Errorf("after the study the sum is %v", v)
	}
}

// A row without an answer is marked with its cause; if, and and or take only
// the marks of the side that decided.
func TestMarks(t *testing.T) {
	c, m := open(t, twoTables)
	rest, safe, both := c.Main[4], c.Main[5], c.Main[6]
	study := run.Study{Rows: 11, Want: []*check.Def{rest, safe, both}}
	study.Replace(c.Main[0], func(first int, dst []float64) {
		for i := range dst {
			dst[i] = float64(first + i)
		}
	})
	err := m.Study(context.Background(), study, func(_, n int, cols []*run.Col) error {
		for w := range n {
			_, mk := cols[0].At(0, w)
			if got := mk.Fault(); (w == 5) != (got == function.ByNothing) {
				t.Errorf("rest at %d: %q", w, got.Words())
			}
			if v, mk := cols[1].At(0, w); mk != 0 || w == 5 && v != 7 {
				t.Errorf("safe at %d: %v %q", w, v, mk.Fault().Words())
			}
			if v, mk := cols[2].At(0, w); mk != 0 || (v != 0) != (w > 5) {
				t.Errorf("both at %d: %v %q", w, v, mk.Fault().Words())
			}
		}
		if site := m.Site(cols[0].Marks[5]); site.Def != rest {
			t.Errorf("the mark was made by %v", site.Def)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestStudyEndsEarly(t *testing.T) {
	c, m := open(t, twoTables)
	study := run.Study{Rows: 100 * run.Block, Want: []*check.Def{c.Main[3]}}
	study.Replace(c.Main[0], func(_ int, dst []float64) { clear(dst) })
	stop := errors.New("enough")
	blocks := 0
	if err := m.Study(context.Background(), study, func(int, int, []*run.Col) error { blocks++; return stop }); err != stop || blocks != 1 {
		t.Errorf("%v after %d blocks", err, blocks)
	}
	ctx, cancel := context.WithCancel(context.Background())
	blocks = 0
	err := m.Study(ctx, study, func(int, int, []*run.Col) error {
		blocks++
		cancel()
		return nil
	})
	if !errors.Is(err, context.Canceled) || blocks != 1 {
		t.Errorf("%v after %d blocks", err, blocks)
	}
	if v, _ := m.Col(c.Main[3]).At(0, 0); v != 22 {
		t.Errorf("after the study the sum is %v", v)
	}
}

// A tolerance shifts what a line has computed, row by row of a column, and
// everything downstream of it.
func TestShift(t *testing.T) {
	c, m := open(t, twoTables)
	b, total := c.Main[2], c.Main[3]
	study := run.Study{Rows: 4, Want: []*check.Def{total}, Shift: map[*check.Def]func(int, int, []float64){
		b: func(_, n int, v []float64) {
			for w := range n {
				v[n+w] += float64(w) // the second row of the column
			}
		},
	}}
	err := m.Study(context.Background(), study, func(_, n int, cols []*run.Col) error {
		for w := range n {
			if v, _ := cols[0].At(0, w); v != 22+float64(w) {
				t.Errorf("row %d: %v", w, v)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// An empty table is a column of no rows, not a single value.
func TestEmptyColumn(t *testing.T) {
	c, m := open(t, "table t | a as A\nend\nt.b = t.a * 2\ntotal = sum(t.b)\nmust t.a > 1 A\n")
	if col := m.Col(c.Main[1]); col.Rows != 0 || len(col.V) != 0 {
		t.Errorf("%d rows", col.Rows)
	}
	if v, mk := m.Col(c.Main[2]).At(0, 0); v != 0 || mk != 0 {
		t.Errorf("the sum of no rows is %v", v)
	}
}

// On one core and on several a study has the same answers and the same marks,
// bit for bit, and in the same order.
func TestCoresAgree(t *testing.T) {
	c, m := open(t, twoTables+"use drop for d with load = x\nfar = d.lost * 1 A / (x - 7 A)\n")
	place := c.Places[7][0]
	study := run.Study{Rows: 40*run.Block + 17, Want: append([]*check.Def{c.Main[2], c.Main[3], c.Main[4], c.Main[8]}, place.Gives...)}
	study.Replace(c.Main[0], func(first int, dst []float64) {
		for i := range dst {
			dst[i] = float64((first+i)%4099) / 500
		}
	})
	read := func(cores int) (bits []uint64, marks []run.Mark) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		at := 0
		err := m.Study(context.Background(), study, func(first, n int, cols []*run.Col) error {
			if first != at {
				t.Fatalf("rows from %d on, want %d", first, at)
			}
			at += n
			for _, c := range cols {
				for _, v := range c.V {
					bits = append(bits, math.Float64bits(v))
				}
				for w := range n {
					_, mk := c.At(0, w)
					marks = append(marks, mk)
				}
			}
			return nil
		})
		if err != nil || at != study.Rows {
			t.Fatal(err, at)
		}
		return bits, marks
	}
	bits, marks := read(1)
	if !slices.ContainsFunc(marks, func(m run.Mark) bool { return m != 0 }) {
		t.Error("no row is marked")
	}
	for _, cores := range []int{2, 3} {
		if b, m := read(cores); !slices.Equal(b, bits) || !slices.Equal(m, marks) {
			t.Errorf("%d cores have other answers than one", cores)
		}
	}
}
