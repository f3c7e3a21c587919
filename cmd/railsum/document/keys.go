package document

import (
	"encoding"
	"reflect"
	"strings"

	"railsum/calc/answer"
)

// Object is a kind of JSON object with its keys.
type Object struct {
	Name string
	Keys []Key
}

// Key is a key of an object. Kind says what its value is: "text", "number",
// "true or false", "list of value", the words that a text can be, or the name of
// an object. A key that is not always there is optional.
type Key struct {
	Name, Kind, Doc string
	Optional        bool
}

// Keys describes every object of a document, the document first.
func Keys() []Object {
	w := &walk{seen: map[reflect.Type]bool{}}
	w.kind(reflect.TypeFor[Document]())
	return w.all
}

type walk struct {
	seen map[reflect.Type]bool
	all  []Object
}

// kind describes a type, and adds the objects that it needs.
func (w *walk) kind(t reflect.Type) string {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	x := reflect.New(t).Interface()
	if s, ok := x.(interface{ Words() []string }); ok {
		words := s.Words()
		return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
	}
	if n, ok := x.(interface{ Nullable() string }); ok {
		return n.Nullable()
	}
	if _, ok := x.(encoding.TextMarshaler); ok {
		return "text"
	}
	switch t.Kind() {
	case reflect.Struct:
		return w.object(t, x)
	case reflect.Slice:
		return "list of " + w.kind(t.Elem())
	case reflect.Map:
		if t.Elem() == reflect.TypeFor[answer.Study]() {
			return w.studies()
		}
		return "object of " + w.kind(t.Elem()) + " by " + w.kind(t.Key())
	case reflect.String:
		return "text"
	case reflect.Bool:
		return "true or false"
	case reflect.Interface:
		return "number, true or false, text, or null"
	}
	return "number"
}

// object describes a struct; one with a Form is written as that.
func (w *walk) object(t reflect.Type, x any) string {
	name := strings.ToLower(t.Name())
	if w.seen[t] {
		return name
	}
	w.seen[t] = true
	if f, ok := x.(interface{ Form() any }); ok {
		t = reflect.TypeOf(f.Form())
	}
	name = strings.TrimSuffix(name, "form")
	at := len(w.all)
	w.all = append(w.all, Object{Name: name})
	keys := w.keys(t)
	w.all[at].Keys = keys
	return name
}

func (w *walk) keys(t reflect.Type) []Key {
	var keys []Key
	for _, f := range reflect.VisibleFields(t) {
		tag, ok := f.Tag.Lookup("json")
		if name, options, _ := strings.Cut(tag, ","); ok && name != "-" {
			keys = append(keys, Key{name, w.kind(f.Type), f.Tag.Get("doc"), options != ""})
		}
	}
	return keys
}

// studies describes the object that has a study under its word.
func (w *walk) studies() string {
	at := len(w.all)
	w.all = append(w.all, Object{Name: "study"})
	var keys []Key
	for _, s := range answer.Studies {
		keys = append(keys, Key{Name: s.Word(), Kind: w.kind(reflect.TypeOf(s)), Optional: true})
	}
	w.all[at].Keys = keys
	return "study"
}
