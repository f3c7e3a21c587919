package check

// Vague reports whether another word of an input takes nothing with `from`.
func Vague(lib Library, input, word string) bool { return (&builder{lib: lib}).vague(input, word) }
