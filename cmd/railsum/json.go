package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf16"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/show"
)

// schema is the number of the form of --json. Keys are only ever added under
// one number.
const schema = 1

const jsonHelp = `
--json writes one document: {"schema": 1, "files": [...]}. A file has "file",
"verdict", "ok", "rules" (how many have each verdict), "inputs", "unsettled"
(inputs that are defaults or guesses), "on_defaults" (cards with no input of
yours) and "lines"; one that cannot be read has
"file", "ok" and "errors". A line has "row", "text" and, where it has them,
"name", "note", "value", "rule", "study", "cards", "columns" (of a table),
"waiting", "assumed", "errors" and "notices". A value has "kind" (number,
temperature, truth, text), "unit" and "number", "truth" or "text", or for a column
"table" and "rows", each with its "label"; a row without an answer has "fault".
Numbers are in the unit beside them, units in the spelling of a file (mm2, ohm,
degC). A card has "name", "sheet", "edition", "verdict", "on_defaults", "asks",
"gives", "rules", "hazards", "sources"; each of its asks has "state": set, default
or assumed. A rule has "piece" if it is of a sheet within the sheet, and "follows"
if it has no verdict because of an error told elsewhere. An error has "row", "column", "message" and "cure".
`

type (
	document struct {
		Schema int          `json:"schema"`
		Files  []fileRecord `json:"files"`
	}

	fileRecord struct {
		File      string         `json:"file"`
		Verdict   string         `json:"verdict,omitempty"`
		OK        bool           `json:"ok"`
		Rules     map[string]int `json:"rules,omitempty"`
		Inputs    *int           `json:"inputs,omitempty"`
		Unsettled *int           `json:"unsettled,omitempty"`
		Defaults  int            `json:"on_defaults,omitempty"`
		Lines     []lineRecord   `json:"lines,omitempty"`
		Errors    []diagRecord   `json:"errors,omitempty"` // of the file as a whole
	}

	lineRecord struct {
		Row     int          `json:"row"`
		Text    string       `json:"text"`
		Name    string       `json:"name,omitempty"`
		Note    string       `json:"note,omitempty"`
		Value   *valueRecord `json:"value,omitempty"`
		Rule    *ruleRecord  `json:"rule,omitempty"`
		Study   *studyRecord `json:"study,omitempty"`
		Cards   []cardRecord `json:"cards,omitempty"`
		Waiting []string     `json:"waiting,omitempty"`

		Columns []cardLineRecord `json:"columns,omitempty"` // of a table
		Assumed bool             `json:"assumed,omitempty"`
		Errors  []diagRecord     `json:"errors,omitempty"`
		Notices []diagRecord     `json:"notices,omitempty"`
	}

	valueRecord struct {
		Kind      string       `json:"kind"`
		Unit      string       `json:"unit,omitempty"`
		Tolerance string       `json:"tolerance,omitempty"`
		Table     string       `json:"table,omitempty"`
		Rows      *[]rowRecord `json:"rows,omitempty"`
		rowRecord
	}

	rowRecord struct {
		Label  string   `json:"label,omitempty"`
		Number *float64 `json:"number,omitempty"`
		Truth  *bool    `json:"truth,omitempty"`
		Text   *string  `json:"text,omitempty"`
		Fault  string   `json:"fault,omitempty"`
	}

	ruleRecord struct {
		Rule      string   `json:"rule"` // must or should
		Condition string   `json:"condition"`
		Meaning   string   `json:"meaning,omitempty"`
		Verdict   string   `json:"verdict"`
		Compared  string   `json:"compared,omitempty"`
		Fails     []string `json:"fails,omitempty"`
		Rows      int      `json:"rows,omitempty"`
		Why       string   `json:"why,omitempty"`
		Nominal   bool     `json:"nominal,omitempty"` // judged without the tolerances
		Piece     string   `json:"piece,omitempty"`
		Follows   bool     `json:"follows,omitempty"`
	}

	cardRecord struct {
		Name      string           `json:"name,omitempty"`
		Sheet     string           `json:"sheet"`
		Edition   int              `json:"edition,omitempty"`
		Verdict   string           `json:"verdict"`
		Unsettled int              `json:"unsettled"`
		Defaults  bool             `json:"on_defaults,omitempty"`
		Asks      []cardLineRecord `json:"asks"`
		Gives     []cardLineRecord `json:"gives"`
		Rules     []ruleRecord     `json:"rules"`
		Hazards   []string         `json:"hazards"`
		Sources   []string         `json:"sources"`
	}

	cardLineRecord struct {
		Name    string           `json:"name"`
		Meaning string           `json:"meaning,omitempty"`
		State   string           `json:"state,omitempty"`
		Value   *valueRecord     `json:"value,omitempty"`
		From    string           `json:"from,omitempty"`
		Range   string           `json:"range,omitempty"`
		Outside bool             `json:"outside,omitempty"`
		Why     string           `json:"why,omitempty"`
		Columns []cardLineRecord `json:"columns,omitempty"`
	}

	diagRecord struct {
		Row     int    `json:"row,omitempty"`
		Column  int    `json:"column,omitempty"`
		Message string `json:"message"`
		Cure    string `json:"cure,omitempty"`
	}
)

func (d *document) write(w io.Writer) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(d); err != nil {
		return err
	}
	_, err := io.WriteString(w, inert(b.String()))
	return err
}

// inert spells the characters of a document that could act on a terminal as
// JSON escapes; JSON itself asks for this only below the blank. To a reader of
// JSON it is the same document.
func inert(doc string) string {
	var b strings.Builder
	for _, r := range doc {
		switch {
		case r == '\n' || unicode.IsGraphic(r):
			b.WriteRune(r)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			fmt.Fprintf(&b, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

func unreadRecord(name string, err error) fileRecord {
	f := asFailure(codeFile, err)
	return fileRecord{File: name, Errors: []diagRecord{{Message: f.Message, Cure: f.Cure}}}
}

func recordOf(n *notebook) fileRecord {
	tally := show.Count(n.answers)
	rules := map[string]int{}
	for v := calc.NotJudged; v <= calc.Danger; v++ {
		rules[v.String()] = tally.Verdicts[v]
	}
	r := fileRecord{
		File: n.name, Verdict: tally.Worst.String(), OK: n.ok, Rules: rules,
		Inputs: &tally.Inputs, Unsettled: &tally.Unsettled, Defaults: tally.Defaults,
	}
	for _, a := range n.answers {
		if _, blank := a.Line.Node.(*syntax.Blank); !blank {
			r.Lines = append(r.Lines, lineOf(a))
		}
	}
	return r
}

func lineOf(a *calc.Answer) lineRecord {
	r := lineRecord{
		Row: a.Line.Row, Text: a.Line.Raw, Name: a.Name, Note: a.Line.Note,
		Waiting: a.Waiting, Assumed: a.Assumed,
		Errors: diagsOf(a.Errors), Notices: diagsOf(a.Notices),
	}
	if a.Value != nil {
		r.Value = valueOf(a.Value)
	}
	if a.Rule != nil {
		rule := ruleOf(a.Rule)
		r.Rule = &rule
	}
	if a.Study != nil {
		r.Study = studyOf(a.Study)
	}
	for _, c := range a.Cards {
		r.Cards = append(r.Cards, cardOf(c))
	}
	if len(a.Columns) > 0 {
		r.Columns = cardLinesOf(a.Columns, false)
	}
	return r
}

func diagsOf(diags []syntax.Diag) []diagRecord {
	var records []diagRecord
	for _, d := range diags {
		records = append(records, diagRecord{Row: d.At.Row, Column: d.At.Col, Message: d.Message, Cure: d.Cure})
	}
	return records
}

func kindOf(t types.Type) string {
	switch t.Kind {
	case types.Number:
		return "number"
	case types.Point:
		return "temperature"
	case types.Truth:
		return "truth"
	case types.Text:
		return "text"
	}
	return "unknown"
}

func valueOf(v *calc.Value) *valueRecord {
	r := &valueRecord{Kind: kindOf(v.Type), Unit: v.Unit.String(), Tolerance: v.Tol}
	if v.Type.Of == nil {
		r.rowRecord = rowOf(v, 0)
		return r
	}
	rows := make([]rowRecord, show.Rows(v))
	for i := range rows {
		rows[i] = rowOf(v, i)
		rows[i].Label = show.Label(v, i)
	}
	r.Table, r.Rows = v.Type.Of.Name, &rows
	return r
}

func rowOf(v *calc.Value, i int) rowRecord {
	if why := show.Fault(v, i); why != "" {
		return rowRecord{Fault: why}
	}
	switch v.Type.Kind {
	case types.Text:
		return rowRecord{Text: &v.Texts[i]}
	case types.Truth:
		yes := v.Numbers[i] != 0
		return rowRecord{Truth: &yes}
	}
	x := inUnit(v, i)
	return rowRecord{Number: &x}
}

// inUnit is the number of a row in the value's own unit.
func inUnit(v *calc.Value, i int) float64 {
	if v.Unit.IsZero() {
		return v.Numbers[i]
	}
	return v.Unit.FromSI(v.Numbers[i])
}

func ruleOf(j *calc.Judged) ruleRecord {
	r := ruleRecord{
		Rule: "should", Condition: j.Text, Meaning: j.Meaning, Verdict: j.Verdict.String(),
		Compared: j.Sides, Fails: j.Fails, Rows: j.Rows, Why: j.Why, Nominal: j.Tolerance,
		Piece: j.Piece, Follows: j.Follows,
	}
	if j.Must {
		r.Rule = "must"
	}
	return r
}

func cardOf(c *calc.Card) cardRecord {
	r := cardRecord{
		Name: c.Name, Verdict: c.Verdict.String(), Unsettled: c.Unsettled(), Defaults: show.OnDefaults(c),
		Asks: cardLinesOf(c.Asks, true), Gives: cardLinesOf(c.Gives, false), Rules: []ruleRecord{},
		Hazards: append([]string{}, c.Hazards...), Sources: append([]string{}, c.Sources...),
	}
	if c.Sheet != nil {
		r.Sheet, r.Edition = c.Sheet.Name, c.Sheet.Edition
	}
	for i := range c.Rules {
		r.Rules = append(r.Rules, ruleOf(&c.Rules[i]))
	}
	return r
}

func cardLinesOf(lines []calc.CardLine, asks bool) []cardLineRecord {
	records := []cardLineRecord{}
	for i := range lines {
		l := &lines[i]
		r := cardLineRecord{
			Name: l.Name, Meaning: l.Meaning, From: l.From, Range: l.Range, Outside: l.Outside, Why: l.Why,
		}
		if asks {
			r.State = stateOf(l.State)
		}
		if l.Value != nil {
			r.Value = valueOf(l.Value)
		}
		if len(l.Columns) > 0 {
			r.Columns = cardLinesOf(l.Columns, false)
		}
		records = append(records, r)
	}
	return records
}

func stateOf(s calc.State) string {
	switch s {
	case calc.Default:
		return "default"
	case calc.Assumed:
		return "assumed"
	}
	return "set"
}
