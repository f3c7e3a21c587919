package syntax

import "strings"

// Heading is the text of a note that is a heading, "# --- TEXT ---", empty for
// any other note.
func (r *Remark) Heading() string {
	text, opened := strings.CutPrefix(r.Text, "--- ")
	text, closed := strings.CutSuffix(text, " ---")
	if !opened || !closed || text != trimBlanks(text) || strings.HasPrefix(text, "-") || strings.HasSuffix(text, "-") {
		return ""
	}
	return text
}

// Aside is the text of a note that is for the speaker alone, "# > TEXT", empty
// for any other note.
func (r *Remark) Aside() string {
	text, ok := strings.CutPrefix(r.Text, ">")
	if !ok {
		return ""
	}
	return trimBlanks(text)
}
