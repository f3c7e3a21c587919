// Package show turns answers into text for a terminal, a file or a pipe.
//
// Model: a Printer belongs to one writer and knows three things about it:
// whether it takes colour, whether it takes signs beyond ASCII, and how wide
// it is. Every answer, card, study, change and error has one look, drawn here
// and nowhere else. Answers stand on their own row below their line, indented by
// four; a card begins at the margin with its verdict and what does not hold, then
// come the answers, and gives way step by step until a screen holds it (card.go); a
// sweep is a table and a chart, the chart drawn with letters; colour only ever
// stands on a word that says the same thing.
//
// Whatever comes out of a notebook, a sheet or a file name goes through Safe
// before it is written, so that no control code of a stranger reaches the
// terminal.
//
// Goals: the same text for the same answer whatever the locale's number
// habits; readable at 40 columns and by a screen reader; every value printed
// can be typed back.
//
// Non-goals: reading keys, moving the cursor, paging, HTML, JSON.
package show
