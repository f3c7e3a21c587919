package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"railsum/calc/syntax"
	"railsum/library"
)

// noun is how a meaning must not begin: it is a whole noun.
var noun = regexp.MustCompile(`^(of|in|that|by|at|to|from|with|between) `)

// gone are words that others have taken the place of, wherever they are read:
// sheets, tables, documents, messages, help.
var gone = []*regexp.Regexp{
	regexp.MustCompile(`RAILSUM_ACCESSIBLE|\btakeover\b|(?m:^(ask |take )?gives? [a-z_]+ =)|\n *(rules|gives)\n`),
	regexp.MustCompile(`not yet yours|still yours|\bmay not (trip|see)\b|judged without the tolerances|sheet's own defaults`),
	regexp.MustCompile(`\bfor ever\b|\bwho acts\b|\bat one moment\b|the evening current|worth of the curve|call to all|mend the table`),
	regexp.MustCompile(`\bis no (command|unit|choice|UTF-8|ordinary)|\b[Ss]peaks? (of|for)\b|\bspeak of\b|\balso speaks\b`),
	regexp.MustCompile(`\bstands? (only|twice)\b|stands in brackets|\b[Aa]n own sheet|own defaults alone|for the licensed|licensed only`),
	regexp.MustCompile(`to take (it )?over\b|take values over|looked from|jump past one another|who says so|over ideal copper`),
	regexp.MustCompile(`lower the trip[;,.]|a follower between|how to call it|which railsum this is|what a shell needs|was computed is wrong`),
	regexp.MustCompile(`\btake one of (them|the two)([";,.]|$)|do not go together|something to work on|names the last question|leaves off`),
	regexp.MustCompile(`least sure first|no rule turns|nothing it depends on|told elsewhere|come into being|put on record`),
	regexp.MustCompile(`(?m:^ +(slow )?point motors \|)|"point motors"`),
	regexp.MustCompile(`nothing to do again|still here;|saved or dropped|is a matter of|number arose`),
}

// said are words that a message or a help must not say, though a sheet may: a
// diode sits behind a bridge, but a note stands after a line.
var said = regexp.MustCompile("\\bbehind (a `|a blank|a line|it\\b|an operator|with\\b|that answer|the (name|text|whole|value|number)|[+]-)|" +
	`\b(on|its|above) row %d|, row %d([^,]|$)|^this text$`)

// outdated are names of inputs and answers that others have taken the place of.
var outdated = map[string][]string{
	"crossing": {"evening", "clashing"}, "sections": {"gives"}, "lights": {"gives", "factor", "stands"}, "led": {"stands", "least", "most", "factor"},
	"input_resistor": {"stands", "least", "most", "factor"}, "timing": {"gather"},
}

// TestWords holds what is read to the words chosen for it: no word that another
// has taken the place of, meanings that are whole nouns.
func TestWords(t *testing.T) {
	check := func(where, text string, more ...*regexp.Regexp) {
		for _, re := range append(more, gone...) {
			if m := re.FindString(text); m != "" {
				t.Errorf("%s: %q", where, m)
			}
		}
	}
	roots := []string{
		"README.md", "DEVELOPERS.md", "library", "testdata/layouts", "testdata/scripts", "testdata/screens",
		"cmd", "calc", "units", "sessions",
	}
	for _, root := range roots {
		err := filepath.WalkDir(filepath.Join("../..", root), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || strings.HasSuffix(path, "_test.go") || strings.Contains(path, "syntax/testdata") {
				return err
			}
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			if !strings.HasSuffix(path, ".go") {
				check(path, string(text))
				return nil
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, text, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if field, ok := n.(*ast.Field); ok && field.Tag != nil {
					check(path, field.Tag.Value)
					return true
				}
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					s, err := strconv.Unquote(lit.Value)
					if err != nil {
						t.Error(path, err)
					}
					check(path, s, said)
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, e := range library.Catalogue() {
		sheet, err := library.Shipped().Sheet(e.Sheet, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range sheet.File.Lines {
			switch l.Node.(type) {
			case *syntax.Ask, *syntax.Tell:
				if name := syntax.Defines(l.Node)[0].Parts[0].Text; slices.Contains(outdated[e.Sheet], name) {
					t.Errorf("%s: %s is called otherwise", e.Sheet, name)
				}
				if noun.MatchString(l.Note) {
					t.Errorf("%s: %q begins in mid-air", e.Sheet, l.Note)
				}
			}
		}
	}
}
