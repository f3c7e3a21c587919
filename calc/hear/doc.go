// Package hear listens: it puts a line that the strict grammar refuses into the
// language, if it can mean one thing only.
//
// # Model
//
// A line as typed becomes tokens, more loosely than in syntax: a word, a number,
// a sign, a text. The rules of one table rewrite the tokens, each in its turn;
// where a token can be heard in several ways a rule gives every one of them. Each
// candidate that comes out is printed, read back by package syntax and tried in
// the notebook by the checker, as if it had been typed. One that is sound, and
// alone, is what was heard. Of several none is taken: they are readings, to be
// shown with their values. A rule may also hear what is never taken, because
// people mean two things by it; that is shown with the rule's question.
//
// What no rule mends is looked up in an index of all that can be named: sheets,
// functions, tables, scales, units and orders. A sheet that speaks of the words
// of the line is proposed, filled in from the numbers typed and never answered.
//
// # Goals
//
// Never a wrong number and never a guess. A line that strict accepts is not heard
// at all. What was heard is a line of the strict language, and reads as one.
//
// # Non-goals
//
// Files: they are strict. Conversation: a line is heard by itself. Knowledge of
// the trade: that stands in the library, in its words.
package hear
