// Package separated reads the rows of a table from separated values, as
// spreadsheets write them (RFC 4180).
//
// The model: the first row has the heads, the first column the labels. Values are
// separated by tabs, semicolons or commas, whichever the first row has, in this
// order. A head is a name, with a unit if its numbers have one: "length [m]",
// "length (m)" or "length as m"; "maker as text" holds texts whatever they look
// like, "seen as date" dates. A column is of numbers, of yes and no, of texts or of dates, all its cells alike.
// Where semicolons separate, a comma is the decimal sign; then a point is none.
//
// Goals: what is read is what a person would read; a cell that could be read in
// two ways, or not at all, is told with its row and column, and none is guessed.
//
// Not its business: where the text comes from (package library, the desk), names,
// and whether the cells of a column are of one dimension (package check).
package separated

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"railsum/calc/syntax"
	"railsum/units"
	"railsum/units/words"
)

// MaxBytes is how large a text may be.
const MaxBytes = 4 << 20

// maxColumns bounds the columns of a table, maxFaults what is said of one text.
const (
	maxColumns = 200
	maxFaults  = 20
)

// Table reads a text. The positions in the table are rows of the text, and within
// them columns of a cell. If there are faults the table is nil; the messages of
// the faults begin with the row and column.
func Table(text []byte) (*syntax.Table, []words.Wrong) { return read(&reader{}, text) }

// Under reads a text of rows alone, which stand under heads of these names.
func Under(heads []string, text string) (*syntax.Table, []words.Wrong) {
	sep := string(Separator(text))
	return read(&reader{above: 1}, []byte("row"+sep+strings.Join(heads, sep)+"\n"+text))
}

func read(r *reader, text []byte) (*syntax.Table, []words.Wrong) {
	t := r.table(text)
	if n := len(r.faults); n > maxFaults {
		r.faults = append(r.faults[:maxFaults], words.Say("and %d more cells cannot be read", n-maxFaults))
	}
	if len(r.faults) > 0 {
		return nil, r.faults
	}
	return t, nil
}

// reader reads one text.
type reader struct {
	faults []words.Wrong
	comma  rune
	commas bool // a comma is the decimal sign
	above  int  // rows of the text that nobody has typed
}

// record is a row of the text: where it begins, and its cells.
type record struct {
	row   int
	cells []string
}

func (r *reader) fault(row int, column string, message, cure string) {
	place := fmt.Sprintf("row %d", row-r.above)
	if column != "" {
		place += ", column " + column
	}
	wrong := words.Say("%s: %s", place, message)
	wrong.Cure = cure
	r.faults = append(r.faults, wrong)
}

func (r *reader) table(text []byte) *syntax.Table {
	switch {
	case len(text) > MaxBytes:
		r.faults = append(r.faults, words.Say("larger than a table may be (%d MB)", MaxBytes>>20).With("split it in two"))
		return nil
	case bytes.HasPrefix(text, []byte{0xff, 0xfe}), bytes.HasPrefix(text, []byte{0xfe, 0xff}):
		r.faults = append(r.faults, words.Say("written as UTF-16").With("save it as CSV in UTF-8"))
		return nil
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	records := r.records(text)
	if len(r.faults) > 0 {
		return nil
	}
	if len(records) == 0 {
		r.faults = append(r.faults, words.Say("empty").With("write the heads into its first row"))
		return nil
	}
	heads, rows := trimmed(records)
	t := &syntax.Table{}
	kinds := r.heads(t, heads)
	if len(r.faults) > 0 {
		return nil
	}
	r.decimals(rows, kinds)
	for _, rec := range rows {
		row := syntax.Row{At: syntax.Pos{Row: rec.row, Col: 1}, Label: norm.NFC.String(strings.TrimSpace(rec.cells[0]))}
		switch {
		case row.Label == "":
			r.fault(rec.row, "1", "there is no label", "write what the row is about into its first cell")
		case len(rec.cells) != len(heads.cells):
			r.fault(rec.row, "", fmt.Sprintf("there are %d cells, and %d heads", len(rec.cells), len(heads.cells)),
				"write a value for each head")
			continue
		}
		row.Cells = make([]syntax.Cell, len(t.Heads))
		t.Rows = append(t.Rows, row)
	}
	if len(r.faults) == 0 {
		for j := range t.Heads {
			r.column(t, rows, j, kinds[j])
		}
	}
	return t
}

// records cuts the text into rows. Rows of nothing but empty cells are left out.
func (r *reader) records(text []byte) []record {
	if !utf8.Valid(text) {
		row := 1
		for len(text) > 0 {
			c, n := utf8.DecodeRune(text)
			if c == utf8.RuneError && n == 1 {
				break
			}
			if c == '\n' {
				row++
			}
			text = text[n:]
		}
		r.fault(row, "", "this is not UTF-8", "save it as CSV in UTF-8")
		return nil
	}
	stray := func(c rune) bool { return c != '\n' && c != '\r' && syntax.Unwritable(c) != "" }
	if i := bytes.IndexFunc(text, stray); i >= 0 {
		c, _ := utf8.DecodeRune(text[i:])
		stands := fmt.Sprintf("%s (U+%04X) stands here", syntax.Unwritable(c), c)
		r.fault(1+bytes.Count(text[:i], []byte("\n")), "", stands, "take it out")
		return nil
	}
	if r.comma = Separator(string(text)); r.comma == 0 {
		r.fault(1, "", "nothing separates the heads", "separate the columns by commas, semicolons or tabs")
		return nil
	}
	in := csv.NewReader(bytes.NewReader(text))
	in.Comma, in.FieldsPerRecord = r.comma, -1
	var all []record
	for {
		cells, err := in.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return all
		case errors.As(err, &parse):
			r.fault(parse.Line, "", "a quotation mark stands where none can", `put the whole cell into quotes, and write each quote in it twice`)
			return nil
		case err != nil:
			r.fault(1, "", err.Error(), "")
			return nil
		}
		if strings.TrimSpace(strings.Join(cells, "")) == "" {
			continue
		}
		row, _ := in.FieldPos(0)
		all = append(all, record{row, cells})
		if len(all) > syntax.MaxRows+1 {
			r.fault(row, "", fmt.Sprintf("a table has at most %d rows", syntax.MaxRows), "split it into several")
			return nil
		}
	}
}

// Separator is what separates the values of a text: a tab, a semicolon or a comma,
// the first of them that its first row has; 0 if it has none.
func Separator(text string) rune {
	first, _, _ := strings.Cut(text, "\n")
	quoted := false
	var semicolon, comma bool
	for _, c := range first {
		switch {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '\t':
			return '\t'
		case c == ';':
			semicolon = true
		case c == ',':
			comma = true
		}
	}
	switch {
	case semicolon:
		return ';'
	case comma:
		return ','
	}
	return 0
}

// trimmed takes the heads off the rows, and the columns off their right that
// nobody has written anything into.
func trimmed(records []record) (heads record, rows []record) {
	used := 0
	for _, rec := range records {
		for i := len(rec.cells); i > used; i-- {
			if strings.TrimSpace(rec.cells[i-1]) != "" {
				used = i
			}
		}
	}
	for i := range records {
		if rec := &records[i]; len(rec.cells) > used {
			rec.cells = rec.cells[:used]
		}
	}
	return records[0], records[1:]
}

// kind is what the cells of a column are held to be.
type kind uint8

const (
	open    kind = iota // what they look like
	numbers             // the head has a unit
	texts
	dates // the head says so
)

// lazily compiles an expression when it is first asked for: most calls read no table.
func lazily(form string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(form) })
}

// headForm is a head with its unit in brackets or behind "as".
var headForm = lazily(`^(.*?)(?:\s*\[(.*)\]|\s*\((.*)\)|\s+as\s+(.*))?$`)

func (r *reader) heads(t *syntax.Table, heads record) []kind {
	if len(heads.cells) < 2 {
		r.fault(heads.row, "", "a table needs at least one head behind that of the labels",
			"separate the columns by commas, semicolons or tabs")
		return nil
	}
	if len(heads.cells) > maxColumns {
		r.fault(heads.row, "", fmt.Sprintf("a table has at most %d columns here", maxColumns),
			"take out those that nobody needs")
		return nil
	}
	kinds := make([]kind, len(heads.cells)-1)
	seen := map[string]bool{}
	for i, cell := range heads.cells[1:] {
		at := strconv.Itoa(i + 2)
		m := headForm().FindStringSubmatch(strings.TrimSpace(cell))
		if m == nil {
			r.fault(heads.row, at, "a head stands in one row", "take the line end out of it")
			continue
		}
		name, unit := m[1], strings.TrimSpace(m[2]+m[3]+m[4])
		h := syntax.Head{Name: syntax.Part{At: syntax.Pos{Row: heads.row, Col: 1}, Text: asName(name)}}
		text, isName := columnName(h.Name.Text)
		if isName {
			h.Name.Text = text
		}
		switch {
		case strings.TrimSpace(name) == "":
			r.fault(heads.row, at, "there is no head", "write a name above the column")
		case !isName:
			r.fault(heads.row, at, fmt.Sprintf("%q cannot be a name", name), "a name is a letter, then letters, digits and `_`")
		case h.Name.Text == "label":
			r.fault(heads.row, at, "label is the column of the rows' labels and cannot be a head", "write another word")
		case seen[h.Name.Text]:
			r.fault(heads.row, at, h.Name.Text+" stands above two columns", "give one of them another name")
		}
		seen[h.Name.Text] = true
		switch u, err := units.Parse(unit); {
		case unit == "":
		case unit == "text":
			kinds[i] = texts
		case unit == "date":
			kinds[i], h.Date = dates, true
		case err != nil:
			r.fault(heads.row, at, fmt.Sprintf("%q is not a unit", unit), "write one of those that `about units` lists, `as text` or `as date`")
		default:
			kinds[i], h.As = numbers, &syntax.UnitRef{At: h.Name.At, Unit: u}
		}
		t.Heads = append(t.Heads, h)
	}
	return kinds
}

// asName writes blanks and hyphens in a head as the "_" that a name has there.
func asName(head string) string {
	return strings.Join(strings.FieldsFunc(norm.NFC.String(head),
		func(c rune) bool { return c == ' ' || c == '-' || c == '\u00a0' }), "_")
}

// columnName gives a word as the name of a column, in its normal form.
func columnName(word string) (string, bool) {
	l, _ := syntax.ParseLine("x." + word)
	q, is := l.Node.(*syntax.Question)
	if !is || len(l.Errors) > 0 {
		return "", false
	}
	n, is := q.Expr.(*syntax.Name)
	if !is || len(n.Parts) != 2 || n.Parts[1].Quoted {
		return "", false
	}
	return n.Parts[1].Text, true
}

// number is a number with a point or a comma as its decimal sign, or none.
var number = lazily(`^[+-]?(?:\d+(?:([.,])\d*)?|([.,])\d+)(?:[eE][+-]?\d+)?$`)

// withComma is a number with a comma, and its unit if it has one.
var withComma = lazily(`^[+-]?(?:\d+,\d*|,\d+)(?:[eE][+-]?\d+)?(?:\s*[^\d\s.,]\S*)?$`)

// decimals finds out which decimal sign the text has: the point, or, where
// semicolons separate and some number has one, the comma.
func (r *reader) decimals(rows []record, kinds []kind) {
	if r.comma != ';' {
		return
	}
	for _, rec := range rows {
		for i, cell := range rec.cells[1:] {
			if i < len(kinds) && kinds[i] == texts {
				continue
			}
			if withComma().MatchString(strings.TrimSpace(cell)) {
				r.commas = true
				return
			}
		}
	}
}
