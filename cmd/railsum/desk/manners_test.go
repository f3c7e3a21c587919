//go:build unix

package desk

import (
	"os"
	"path/filepath"
	"testing"
)

// What is not saved is settled by the words offered, and by yes and no too; no
// throws nothing away.
func TestPartingWords(t *testing.T) {
	for _, c := range []struct {
		answer, says string
	}{
		{"no", "They are kept, and offered"},
		{"later", "They are kept, and offered"},
		{"Y", "Saved as n.sums."},
	} {
		home := t.TempDir()
		term := sitIn(t, home, "n.sums")
		term.Wait("2. ")
		term.Type("1 + 1\r")
		term.Wait("3. ")
		term.Type("quit\r")
		term.Expect("later keeps them in the journal,\nand the next start offers them")
		term.Wait("save, later or drop: ")
		term.Type(c.answer + "\r")
		term.Expect(c.says)
		if code := term.Exit(); code != 0 {
			t.Errorf("%s: exit code %d", c.answer, code)
		}
		if _, err := os.Stat(filepath.Join(home, "n.sums")); (err == nil) != (c.answer == "Y") {
			t.Errorf("%s: the file: %v", c.answer, err)
		}
	}
}

// A table with one bad row is offered again row by row, and the desk says how to
// go through it.
func TestTableIsOfferedAgain(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	for i, row := range []string{"table fleet | draw", "railcar | 2 A *", "end"} {
		term.Type(row + "\r")
		if i < 2 {
			term.Wait([]string{"3. ", "4. "}[i])
		}
	}
	term.Expect("The table is offered again row by row: Enter takes a row as it stands.")
	term.Wait("2. table fleet | draw")
	term.Type("\r")
	term.Wait("3.   railcar | 2 A *")
	term.Type("\x7f\x7f\r")
	term.Wait("4.   end")
	term.Type("\r")
	term.Wait("5. ")
}

// A file that has become another is written over only when that is asked for, and
// every way out is named.
func TestChangedFileHasWaysOut(t *testing.T) {
	home := t.TempDir()
	file := filepath.Join(home, "bay.sums")
	if err := os.WriteFile(file, []byte("railsum 1\nx = 3 V\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	term := sitIn(t, home, file)
	term.Wait("3. ")
	term.Type("y = 4 V\r")
	term.Wait("4. ")
	if err := os.WriteFile(file, []byte("railsum 1\nx = 5 V\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	term.Type("save\r")
	term.Expect("- 2. x = 3 V")
	term.Expect("+    x = 5 V")
	term.Expect("merge takes them into this notebook and saves both;")
	term.Expect("OTHER.sums` writes the notebook beside it.")
	term.Wait("merge, replace or no: ")
	term.Type("no\r")
	term.Expect("nothing was written")
	term.Wait("4. ")
	term.Type("save beside\r")
	term.Expect("The desk now edits beside.sums;")
	if text, _ := os.ReadFile(file); string(text) != "railsum 1\nx = 5 V\n" {
		t.Errorf("the file has been written over: %q", text)
	}
}

// Up brings the order that a mistyped one was meant to be.
func TestMistypedOrderIsMended(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Type("x = 3 V\r")
	term.Wait("3. ")
	term.Type("lits\r")
	term.Expect("Did you mean list?")
	term.Wait("3. ")
	term.Type("\x1b[A")
	term.Wait("3. list")
	term.Type("\r")
	term.Expect("1. railsum 1\n2. x = 3 V\n")
	term.Wait("3. ")
}
