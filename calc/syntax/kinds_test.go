package syntax

import (
	"fmt"
	"go/ast"
	goparser "go/parser"
	gotoken "go/token"
	"math/rand"
	"path/filepath"
	"strings"
	"testing"
)

// kindsOfLines reads from the source of this package which kinds of lines there
// are: what says which expressions stand on it.
func kindsOfLines(t *testing.T) map[string]int {
	t.Helper()
	kinds := map[string]int{}
	names, _ := filepath.Glob("*.go")
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := goparser.ParseFile(gotoken.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Name.Name != "exprs" || f.Recv == nil {
				continue
			}
			if star, ok := f.Recv.List[0].Type.(*ast.StarExpr); ok {
				kinds[star.X.(*ast.Ident).Name] = 0
			}
		}
	}
	return kinds
}

// plainLines are sound lines of the kinds that have no help of their own.
var plainLines = []string{"", "# remark", "railsum 1", "track = 15 V +- 5 %  # of the booster", "north.lost as mV", "must a < b and not c  # why",
	"should x >= 5 % of y", "ask x (y) = 3 mm from 0 mm to 5 mm  # what", `take kind = "a" among "a", "b"`, "tell z = 3 * x as mm", "prefer mm, km/h",
	`source "a standard"`, `hazard "hot" if x > 3`, `use drop for north like south with length = 3 m, kind = "a" show lost`, "table t | a as mA | b", "table v | seen as date | n"}

// TestRandomLinesOfEachKind takes lines of every kind there is, puts words of one
// in the place of words of another, and drops and doubles some.
func TestRandomLinesOfEachKind(t *testing.T) {
	sound := plainLines
	for _, s := range Studies() {
		sound = append(sound, s.Help().Examples...)
	}
	r := rand.New(rand.NewSource(3))
	kinds := kindsOfLines(t)
	for range 30_000 {
		words := strings.Fields(sound[r.Intn(len(sound))])
		for range r.Intn(3) {
			if len(words) == 0 {
				break
			}
			at, other := r.Intn(len(words)), append(strings.Fields(sound[r.Intn(len(sound))]), "")
			switch r.Intn(4) {
			case 0:
				words = append(words[:at:at], words[at+1:]...)
			case 1:
				words = append(words[:at:at], append([]string{words[at]}, words[at:]...)...)
			default:
				words[at] = other[r.Intn(len(other))]
			}
		}
		l, open := ParseLine(strings.Join(words, " "))
		if open { // a table has further rows
			l, _ = ParseLine(l.Raw + "\n  x | 1 | 2\nend")
		}
		checkLine(t, l)
		kinds[strings.TrimPrefix(fmt.Sprintf("%T", l.Node), "*syntax.")]++
		if _, broken := l.Node.(*Broken); !broken && len(l.Errors) == 0 {
			checkPrint(t, l)
		}
	}
	for kind, n := range kinds {
		if n < 30 && kind != "Tail" {
			t.Errorf("%d lines are a %s: too few to show anything", n, kind)
		}
	}
}
