// Package sessions is a notebook being worked on: its lines in order, every
// edit with what it changes, and the file and the journal that keep them.
//
// # Model
//
// A Session holds the text of a notebook as rows. Its lines are at all times
// what reading that text would give, so what is saved is what was seen, and
// what an untouched line was read from is written back byte for byte: saving
// never tidies. Every edit, undoing included, is a splice of rows. It goes into
// the journal, is flushed to the disk, and only then takes effect; the book is
// then updated and says what has changed. Lines that an edit neither touches
// nor shifts stay the same *syntax.Line, so that the book computes again only
// what depends on the change; shifted lines are read again, so that positions
// in messages are true rows at any time.
//
// Lines are given by their index from 0, as in package calc. The number that a
// person sees is that of the line's first row, counted from 1 as in an editor;
// RowOf and At lead from one to the other.
//
// A File is a notebook on the disk. It is replaced as a whole or not at all: a
// new file is written beside it, flushed, and takes its name; then the folder is
// flushed. Links are followed; group, owner, permissions and extended attributes
// are kept, or it is said that they are not. A lock on a file beside it
// (".NAME.lock") keeps a second desk away, and what the file holds is compared
// before it is replaced, for programs that know of no lock. If it is another by
// then, a Merge takes both in, row by row, from what both had: so do lines that a
// session left that died.
//
// A journal lies in the user's state folder for as long as a session has lines
// that its file has not. It begins with the text it starts from, so that it is
// enough by itself; every record carries its length and a checksum, so that a
// torn end is recognised and dropped. A journal whose session has died is found
// by the next one, as a Recovery.
//
// # Goals
//
// After a kill, a full disk or a power cut at any moment the file is the old
// one or the new one, and file and journal together hold every line that was
// accepted. Two desks on one file lose nothing of either. Bad bytes in a file or
// in a journal never panic and are never written over.
//
// # Non-goals
//
// A Session is not for concurrent use.
// Keeping a hard link's second name in step is not attempted. Between comparing
// and replacing there remains a moment in which a program without our lock may
// write. Nothing here is shown to anybody: that is the desk's business.
package sessions
