// Package document is the form of --json: one document for all files, its keys
// the tags of the types here and in calc/answer. Keys describes them, for
// `railsum about json`, and a test holds them to testdata/schema.json.
package document

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
)

// Schema is the number of the form. Keys are only ever added under one number.
const Schema = 1

type (
	// Document is all that is written.
	Document struct {
		Schema int    `json:"schema" doc:"the number of this form, 1"`
		Files  []File `json:"files"`

		Comparison *Comparison `json:"comparison,omitempty" doc:"of two notebooks, in the place of files"`
	}

	// Comparison is what lies between two notebooks.
	Comparison struct {
		OldFile string `json:"old_file" doc:"the older one"`
		NewFile string `json:"new_file" doc:"the newer one"`
		*answer.Comparison
	}

	// File is a notebook with its answers, or why it cannot be read.
	File struct {
		File       string                 `json:"file"`
		Verdict    *answer.Verdict        `json:"verdict,omitempty" doc:"the worst of all rules"`
		OK         bool                   `json:"ok" doc:"no line is in error, and no must fails or has no verdict"`
		Rules      map[answer.Verdict]int `json:"rules,omitempty" doc:"how many rules have each verdict"`
		Inputs     *int                   `json:"inputs,omitempty" doc:"of all cards"`
		Unsettled  *int                   `json:"unsettled,omitempty" doc:"inputs that are defaults or assumed"`
		Lapsed     int                    `json:"lapsed,omitempty" doc:"agreements that no longer stand"`
		OnDefaults int                    `json:"cards_on_defaults,omitempty" doc:"cards with no input of yours"`
		Lines      []Line                 `json:"lines,omitempty"`
		Errors     []Message              `json:"errors,omitempty" doc:"of a file that cannot be read"`
	}

	// Line is a line with what it has to say.
	Line struct {
		Row     int                     `json:"row"`
		Text    string                  `json:"text" doc:"as it was typed"`
		Heard   *Heard                  `json:"heard,omitempty" doc:"of a line that was listened to"`
		Name    string                  `json:"name,omitempty"`
		Note    string                  `json:"note,omitempty"`
		Heading string                  `json:"heading,omitempty"`
		Value   *answer.Value           `json:"value,omitempty"`
		Rule    *answer.Judged          `json:"rule,omitempty"`
		Study   map[string]answer.Study `json:"study,omitempty" doc:"once it has been carried out: one key, the word of the study"`
		Cards   []*answer.Card          `json:"cards,omitempty"`
		Waiting []string                `json:"waiting,omitempty" doc:"names that it waits for"`
		Columns []answer.CardLine       `json:"columns,omitempty" doc:"of a table"`
		Assumed bool                    `json:"assumed,omitempty"`
		Errors  []Message               `json:"errors,omitempty"`
		Notices []Message               `json:"notices,omitempty"`
	}

	// Heard is what a line was heard as, or, if it was not taken, why, and what may
	// be typed in its place.
	Heard struct {
		As         string     `json:"as,omitempty" doc:"the line that is answered"`
		Said       []string   `json:"said,omitempty" doc:"what is worth saying of that"`
		Question   string     `json:"question,omitempty" doc:"why it was not taken"`
		Readings   []Reading  `json:"readings,omitempty" doc:"what it may mean"`
		Correction string     `json:"correction,omitempty" doc:"the one line that is certainly meant"`
		Proposals  []Proposal `json:"proposals,omitempty" doc:"sheets that are about it, the best first"`
		Named      []string   `json:"named,omitempty" doc:"what the name stands for"`
	}

	// Reading is a line that can be typed, and what it gives.
	Reading struct {
		Line  string `json:"line"`
		Value string `json:"value,omitempty"`
	}

	// Proposal is a sheet filled in from what was typed.
	Proposal struct {
		Line    string   `json:"line"`
		Sheet   string   `json:"sheet"`
		ByOrder []string `json:"by_order,omitempty" doc:"inputs filled in the order typed"`
		Left    []string `json:"left,omitempty" doc:"what could not be placed"`
	}

	// Message is what is wrong, or worth saying.
	Message struct {
		Row     int    `json:"row,omitempty"`
		Column  int    `json:"column,omitempty" doc:"from 1"`
		Message string `json:"message"`
		Cure    string `json:"cure,omitempty"`
	}
)

// Writer writes the document of the notebooks it is given, line by line: a column
// of a hundred thousand rows is many times as long in JSON as in memory.
type Writer struct {
	w          io.Writer
	err        error // of writing
	comparison *Comparison
	files      int   // that have been begun
	lines      int   // of the file that have been written
	line       *Line // that items go to, not written yet
	blank      bool  // it is an empty row, of which nothing is written
}

// New makes a writer.
func New(w io.Writer) *Writer { return &Writer{w: w} }

func (w *Writer) Begin(o *outline.Outline) {
	t := &o.Tally
	rules := map[answer.Verdict]int{}
	for v := answer.NotJudged; v <= answer.Danger; v++ {
		rules[v] = t.Verdicts[v]
	}
	w.file(File{File: o.Name, Verdict: &t.Worst, OK: o.OK, Rules: rules, Inputs: &t.Inputs,
		Unsettled: &t.Unsettled, Lapsed: t.Lapsed, OnDefaults: t.Defaults})
}

// file writes what there is of a file but its lines, and leaves it open.
func (w *Writer) file(f File) {
	before := ",\n    "
	if w.files == 0 {
		before = fmt.Sprintf("{\n  \"schema\": %d,\n  \"files\": [\n    ", Schema)
	}
	w.files, w.lines = w.files+1, 0
	w.write(before, strings.TrimSuffix(w.spelt(f, "    "), "\n    }"))
}

func (w *Writer) Each(l *syntax.Line) {
	w.flush()
	w.line = &Line{Row: l.Row, Text: l.Raw, Note: l.Note}
	_, w.blank = l.Node.(*syntax.Blank)
}

// flush writes the line at hand, if it is not a blank one.
func (w *Writer) flush() {
	l := w.line
	if w.line = nil; l == nil || w.blank {
		return
	}
	before := ",\n        "
	if w.lines == 0 {
		before = ",\n      \"lines\": [\n        "
	}
	w.lines++
	w.write(before, w.spelt(l, "        "))
}

func (w *Writer) End(*outline.Outline) {
	w.flush()
	if w.lines > 0 {
		w.write("\n      ]")
	}
	w.write("\n    }")
}

func (w *Writer) Heading(_ *outline.Item, h *outline.Heading) {
	w.line.Heading = h.Text
}
func (w *Writer) Prose(*outline.Item, *outline.Prose)        {} // the lines of a document are those that answer
func (w *Writer) Hazard(*outline.Item, *outline.Hazard)      {} // each card has its own
func (w *Writer) Source(*outline.Item, *outline.Source)      {}
func (w *Writer) Card(_ *outline.Item, c *outline.Card)      { w.line.Cards = append(w.line.Cards, c.Card) }
func (w *Writer) Working(i *outline.Item, s *answer.Working) { w.Study(i, s) }

func (w *Writer) Answer(_ *outline.Item, a *outline.Answer) {
	w.line.Name, w.line.Value, w.line.Columns, w.line.Assumed = a.Name, a.Value, a.Columns, a.Assumed
}

func (w *Writer) Verdict(_ *outline.Item, v *outline.Verdict) {
	w.line.Name, w.line.Rule = v.Name, &v.Judged
}

func (w *Writer) Study(_ *outline.Item, s answer.Study) {
	w.line.Study = map[string]answer.Study{s.Word(): s}
}

func (w *Writer) Fault(_ *outline.Item, f *outline.Fault) {
	w.line.Errors, w.line.Notices, w.line.Waiting = messages(f.Errors), messages(f.Notices), f.Waiting
}

func (w *Writer) Heard(_ *outline.Item, h *outline.Heard) {
	if h.Nothing() {
		return
	}
	r := &Heard{As: h.Text(), Said: h.Said, Question: h.Message, Correction: h.Correction}
	for _, x := range h.Readings {
		r.Readings = append(r.Readings, Reading(x))
	}
	for _, x := range h.Proposals {
		r.Proposals = append(r.Proposals, Proposal{x.Line, x.Sheet, x.ByOrder, x.Left})
	}
	for _, x := range h.Named {
		r.Named = append(r.Named, x.Kind+" "+x.Name)
	}
	w.line.Heard = r
	if h.Line != nil {
		w.line.Text = h.Typed
	}
}

func messages(diags []syntax.Diag) []Message {
	var all []Message
	for _, d := range diags {
		all = append(all, Message{d.At.Row, d.At.Col, d.Message, d.Cure})
	}
	return all
}

// Unread tells of a file that cannot be read.
func (w *Writer) Unread(name, message, cure string) {
	w.file(File{File: name, Errors: []Message{{Message: message, Cure: cure}}})
	w.write("\n    }")
}

// Compare tells of what lies between two notebooks.
func (w *Writer) Compare(old, now string, c *answer.Comparison) {
	w.comparison = &Comparison{old, now, c}
}

// Close writes the end of the document.
func (w *Writer) Close() error {
	end := "\n  ]\n}\n"
	if w.files == 0 {
		end = fmt.Sprintf("{\n  \"schema\": %d,\n  \"files\": []\n}\n", Schema)
	}
	if w.comparison != nil {
		end = strings.TrimSuffix(end, "\n}\n") + ",\n  \"comparison\": " + w.spelt(w.comparison, "  ") + "\n}\n"
	}
	w.write(end)
	return w.err
}

func (w *Writer) write(texts ...string) {
	for _, s := range texts {
		if w.err == nil {
			_, w.err = io.WriteString(w.w, s)
		}
	}
}

// spelt is a value as JSON, its rows but the first after an indent.
func (w *Writer) spelt(x any, indent string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent(indent, "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(x); err != nil && w.err == nil {
		w.err = err
	}
	return inert(strings.TrimSuffix(b.String(), "\n"))
}

// inert spells the characters of a document that could act on a terminal as
// JSON escapes; JSON itself asks for this only below the blank. To a reader of
// JSON it is the same document.
func inert(doc string) string {
	var b strings.Builder
	from := 0 // of what is not yet written: nearly all goes through as it is
	for i, r := range doc {
		if r == '\n' || unicode.IsGraphic(r) {
			continue
		}
		b.WriteString(doc[from:i])
		from = i + utf8.RuneLen(r)
		if r > 0xffff {
			high, low := utf16.EncodeRune(r)
			fmt.Fprintf(&b, `\u%04x\u%04x`, high, low)
		} else {
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	b.WriteString(doc[from:])
	return b.String()
}
