package library

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// Bounds of the name of an own sheet.
const (
	maxName    = 100 // bytes
	maxFolders = 3   // folders before the file's name
)

// devices are names that some systems give to devices whatever follows the
// first dot.
var devices = []string{"con", "prn", "aux", "nul",
	"com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9",
	"lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9"}

// checkName holds the name of an own sheet to what checkPath lets pass.
func checkName(name string) error {
	return checkPath(name, "a sheet", `"coil.sums"`, fmt.Sprintf("%q, or the name without quotes for a shipped sheet", name+ending), ending)
}

// checkPath holds the name of a file of the user's to what names a file in or below the
// folder on every system: letters, digits, blanks, "_", "-" and ".", parts
// separated by "/". What it lets pass is still opened through a root only.
func checkPath(name, what, example, unended string, endings ...string) error {
	refuse := func(why, cure string) error {
		return syntax.Diag{Wrong: words.Say("%q cannot name %s: %s", name, what, why).With(cure)}
	}
	beside := "name a file beside the notebook, as in " + example
	switch {
	case name == "":
		return refuse("it is empty", beside)
	case len(name) > maxName:
		return syntax.Diag{Wrong: words.Say("the name of %s is too long", what).
			With(fmt.Sprintf("at most %d bytes", maxName))}
	case !utf8.ValidString(name):
		return refuse("it is not text", "")
	case strings.HasPrefix(name, "/"), strings.Contains(name, ":"):
		return refuse("it is not a place below the notebook's folder", beside)
	case strings.Contains(name, `\`):
		return refuse(`folders are separated by "/"`, `write "/"`)
	case !slices.ContainsFunc(endings, func(e string) bool { return strings.HasSuffix(name, e) }):
		return refuse("it does not end in "+words.Or(endings), unended)
	}
	parts := strings.Split(name, "/")
	if len(parts) > maxFolders+1 {
		return refuse("it lies too deep", fmt.Sprintf("at most %d folders down", maxFolders))
	}
	for _, part := range parts {
		if why := badPart(part); why != "" {
			return refuse(why, beside)
		}
	}
	return nil
}

// badPart says what is wrong with a file's or folder's name, empty if nothing.
func badPart(part string) string {
	switch {
	case part == "":
		return "a folder has no name"
	case part == "..":
		return `".." leaves the folder`
	case strings.ContainsAny(part[:1], ".- "), strings.HasSuffix(part, "."), strings.HasSuffix(part, " "):
		return "a name begins with a letter or digit and ends with one"
	case part == ending:
		return "nothing stands before " + ending
	}
	first, _, _ := strings.Cut(strings.ToLower(part), ".")
	if slices.Contains(devices, strings.TrimRight(first, " ")) {
		return "some systems take it for a device"
	}
	for _, r := range part {
		if !unicode.IsLetter(r) && !unicode.IsMark(r) && !unicode.IsDigit(r) && !strings.ContainsRune(" _-.", r) {
			return fmt.Sprintf("%q is not a letter or digit", r)
		}
	}
	return ""
}
