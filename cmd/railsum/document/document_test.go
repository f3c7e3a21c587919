package document

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/library"
	"railsum/units"
)

var update = flag.Bool("update", false, "write testdata/schema.json from the types")

const (
	schemaFile = "../../../testdata/schema.json"
	layouts    = "../../../testdata/layouts"
	numbers    = "../../../testdata/numbers"
)

// document is what --json writes of a notebook's text.
func document(t *testing.T, name string, text []byte, dir string) []byte {
	t.Helper()
	book := calc.Open(syntax.ParseFile(text).Lines, library.At(dir))
	answers := book.Answers()
	for i := range answers {
		var err error
		if answers[i], err = book.AnswerStudied(t.Context(), i); err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	w := New(&b)
	outline.Of(name, answers, book.OK()).Write(w)
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestSchema holds testdata/schema.json to the types, and what is written of every
// layout, and of a notebook with all that can go wrong, to the schema.
func TestSchema(t *testing.T) {
	want, err := json.MarshalIndent(schemaOf(Keys()), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if *update {
		if err := os.WriteFile(schemaFile, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got, _ := os.ReadFile(schemaFile); !bytes.Equal(got, want) {
		t.Fatal("testdata/schema.json is not what the types say: go test ./cmd/railsum/document -update, and read the difference")
	}
	schema, err := jsonschema.NewCompiler().Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	check := func(name string, doc []byte) {
		x, err := jsonschema.UnmarshalJSON(bytes.NewReader(doc))
		if err == nil {
			err = schema.Validate(x)
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	paths, err := filepath.Glob(layouts + "/*.sums")
	if err != nil || len(paths) < 5 {
		t.Fatal("no layouts", err)
	}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		check(path, document(t, path, text, layouts))
	}
	check("trouble", document(t, "trouble", []byte(trouble), "."))
	var b bytes.Buffer
	w := New(&b)
	w.Unread("missing.sums", "there is no file missing.sums", "")
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	check("unread", b.Bytes())
	if x, _ := jsonschema.UnmarshalJSON(strings.NewReader(`{"schema": 1, "files": [{"file": "a", "ok": true, "colour": "red"}]}`)); schema.Validate(x) == nil {
		t.Error("a key that no type has is let through")
	}
}

// trouble is a notebook that needs the keys which a sound one does not.
const trouble = `a = 1 V + 1 m
b = lacking * 2
must lacking < 2
use drop for d with length = 500 m, load = 0 A
table t | v
  one | 1
  none | 0
end
must 1 / t.v > 0.5
should t.v > 0.5
n = "a text"
n = "b"
track = 15 V +- 5 %
x = 1
find x from -5 to 5 so 1 / x = 0
find x from 0 to 9 so x < 4
find x from 1 to 5 so ceil(x) = 2.5
find x among 1, 2 so x > 7
vary x from -1 to 1 by 1 show 1 / x, x > 0, if x > 0 then "high" else "low"
suppose x = 0 show 1 / x, n
spread 2 * track, 1 / (x - 1)
working d.lost
measured d.lost = 1 V
`

// schemaOf makes a JSON schema of the objects that Keys tells of.
func schemaOf(objects []Object) map[string]any {
	defs := map[string]any{}
	for _, o := range objects {
		properties, required := map[string]any{}, []string{}
		for _, k := range o.Keys {
			p := schemaKind(k.Kind, objects)
			if k.Doc != "" {
				p = map[string]any{"description": k.Doc}
				maps.Copy(p, schemaKind(k.Kind, objects))
			}
			properties[k.Name] = p
			if !k.Optional {
				required = append(required, k.Name)
			}
		}
		defs[o.Name] = map[string]any{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
	}
	return map[string]any{"$schema": "https://json-schema.org/draft/2020-12/schema", "$ref": "#/$defs/" + objects[0].Name, "$defs": defs}
}

func schemaKind(kind string, objects []Object) map[string]any {
	for _, o := range objects {
		if o.Name == kind {
			return map[string]any{"$ref": "#/$defs/" + kind}
		}
	}
	if of, ok := strings.CutPrefix(kind, "list of "); ok {
		return map[string]any{"type": "array", "items": schemaKind(of, objects)}
	}
	if of, ok := strings.CutPrefix(kind, "object of "); ok {
		of, _, _ = strings.Cut(of, " by ")
		return map[string]any{"type": "object", "additionalProperties": schemaKind(of, objects)}
	}
	switch kind {
	case "text":
		return map[string]any{"type": "string"}
	case "number":
		return map[string]any{"type": "number"}
	case "number or null":
		return map[string]any{"type": []string{"number", "null"}}
	case "true or false":
		return map[string]any{"type": "boolean"}
	case "number, true or false, text, or null":
		return map[string]any{"type": []string{"number", "boolean", "string", "null"}}
	}
	return map[string]any{"enum": strings.Split(strings.Replace(kind, " or ", ", ", 1), ", ")}
}

// TestNumbers holds what is written of the three largest layouts to the numbers
// of testdata/numbers, which the form before this one wrote: a row for each
// number or list of numbers, by the line and the keys that lead to it. What a rule
// compared was a text then, spelled with four figures.
func TestNumbers(t *testing.T) {
	for _, name := range []string{"marrowby", "damson_bank", "brindle_end"} {
		text, err := os.ReadFile(filepath.Join(layouts, name+".sums"))
		if err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Files []map[string]any `json:"files"`
		}
		if err := json.Unmarshal(document(t, name, text, layouts), &doc); err != nil {
			t.Fatal(err)
		}
		got := map[string]string{}
		file := doc.Files[0]
		for _, line := range file["lines"].([]any) {
			line := line.(map[string]any)
			row := line["row"].(float64)
			delete(line, "row")
			flatten(got, strconv.Itoa(int(row)), line)
		}
		delete(file, "lines")
		for key, x := range file {
			flatten(got, key, x)
		}
		before, err := os.ReadFile(filepath.Join(numbers, name+".tsv"))
		if err != nil {
			t.Fatal(err)
		}
		held := 0
		for row := range strings.Lines(string(before)) {
			path, want, _ := strings.Cut(strings.TrimSuffix(row, "\n"), "\t")
			if !same(got[path], want) {
				t.Errorf("%s: %s is %q, and was %q", name, path, got[path], want)
			}
			held++
		}
		if held < 700 {
			t.Errorf("%s: %d rows were compared", name, held)
		}
	}
}

// same compares two rows of numbers as written, or two texts.
func same(got, want string) bool {
	if got == want {
		return true
	}
	a, b := strings.Fields(got), strings.Fields(want)
	for i := range a {
		if len(a) != len(b) {
			return false
		}
		x, err1 := strconv.ParseFloat(a[i], 64)
		y, err2 := strconv.ParseFloat(b[i], 64)
		if a[i] != b[i] && (err1 != nil || err2 != nil || math.Abs(x-y) > 1e-12*math.Abs(y)) {
			return false
		}
	}
	return len(a) == len(b)
}

// flatten writes the numbers of a value by the keys that lead to them.
func flatten(out map[string]string, path string, x any) {
	switch x := x.(type) {
	case float64:
		out[path] = strconv.FormatFloat(x, 'g', -1, 64)
	case map[string]any:
		if x["sign"] != nil {
			out[path] = side(x["left"]) + " " + x["sign"].(string) + " " + side(x["right"])
			return
		}
		for key, y := range x {
			flatten(out, path+"."+key, y)
		}
	case []any:
		var row []string
		for i, y := range x {
			key := strconv.Itoa(i)
			switch y := y.(type) {
			case nil:
				row = append(row, "-")
			case float64:
				row = append(row, strconv.FormatFloat(y, 'g', -1, 64))
			case map[string]any:
				if strings.HasSuffix(path, ".explains") { // they come in another order now
					key = y["name"].(string)
				}
			}
			flatten(out, path+"."+key, y)
		}
		if len(row) == len(x) {
			out[path] = strings.Join(row, " ")
		}
	}
}

// side spells one side of a comparison as it was spelled.
func side(x any) string {
	v := x.(map[string]any)
	n, _ := v["number"].(float64)
	text := units.Format(n)
	if unit, ok := v["unit"].(string); ok {
		u, err := units.Parse(unit)
		if err != nil {
			return fmt.Sprint(err)
		}
		text += " " + u.Shown()
	}
	return text
}

// TestStudiesAreKnown: each study of the language has its answer, its Facts and a
// place in the document.
func TestStudiesAreKnown(t *testing.T) {
	var words []string
	for _, s := range answer.Studies {
		words = append(words, s.Word())
	}
	var want []string
	for _, s := range syntax.Studies() {
		want = append(want, s.Word())
	}
	if !reflect.DeepEqual(words, want) {
		t.Errorf("the answers are of %v, and the studies %v", words, want)
	}
}
