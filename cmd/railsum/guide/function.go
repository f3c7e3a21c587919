package guide

import "railsum/calc/function"

// writeFunction writes what a function means, an example and its source.
func writeFunction(w *writer, f *function.Function) {
	w.line(f.Args + ": " + f.Meaning)
	if f.Example != "" {
		example := []string{f.Example}
		if f.Answer != "" {
			example = append(example, "  "+f.Answer)
		}
		w.block("for example", example)
	}
	if f.Source != "" {
		w.block("sources", []string{f.Source})
	}
	w.block("kind", []string{"function, " + f.Group})
}
