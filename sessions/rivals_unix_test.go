//go:build !windows

package sessions

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
)

// rivalText is what a rival saves: large enough that writing it takes its time.
func rivalText(who string, n int) string {
	return fmt.Sprintf("%s\n# %s %d\n%s# end\n", header, who, n, strings.Repeat("# "+padding+"\n", 100))
}

// rival does what it is told on its standard input, and says how it went.
func rival(dir string) {
	name, _ := childPlace(dir)
	who := fmt.Sprint(os.Getpid())
	var f *File
	save := func(n int) string {
		switch err := f.Save([]byte(rivalText(who, n)), false); {
		case err == nil:
			return "saved"
		case errors.Is(err, ErrChanged), errors.Is(err, ErrLocked):
			return "refused"
		default:
			return err.Error()
		}
	}
	orders := bufio.NewScanner(os.Stdin)
	for orders.Scan() {
		var order string
		var n int
		fmt.Sscan(orders.Text(), &order, &n)
		switch order {
		case "load":
			var err error
			f, err = Load(name)
			check(err)
			fmt.Println("loaded")
		case "save":
			fmt.Println(save(n))
		case "count": // n times one more than the file says
			for n > 0 {
				var err error
				f, err = Load(name)
				check(err)
				var last int
				fmt.Sscanf(string(f.Text), header+"\n# %s %d", new(string), &last)
				switch how := save(last + 1); how {
				case "saved":
					n--
				case "refused":
				default:
					check(errors.New(how))
				}
			}
			fmt.Println("counted")
		}
	}
}

// rivals starts two processes that save to one file; tell gives both an order
// and returns what they say.
func rivals(t *testing.T) (name string, pids [2]int, tell func(order string) [2]string) {
	t.Helper()
	dir := t.TempDir()
	name, _ = childPlace(dir)
	var in [2]io.Writer
	var out [2]*bufio.Scanner
	for i := range 2 {
		cmd := child(t, "rival", dir)
		w, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		r, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() {
			w.Close()
			if err := cmd.Wait(); err != nil {
				t.Error(err)
			}
			for _, left := range namesIn(t, dir) {
				if i == 1 && left != "a.sums" {
					t.Errorf("left behind: %s", left)
				}
			}
		})
		in[i], out[i], pids[i] = w, bufio.NewScanner(r), cmd.Process.Pid
	}
	return name, pids, func(order string) (said [2]string) {
		for i := range 2 {
			fmt.Fprintln(in[i], order)
		}
		for i := range 2 {
			if !out[i].Scan() {
				t.Fatalf("%s: a rival has died", order)
			}
			said[i] = out[i].Text()
		}
		return said
	}
}

// Two processes save to one file at the same moment: one of them wins, the other
// is told so, and the file is the winner's whole.
func TestOneOfTwoWins(t *testing.T) {
	name, pids, tell := rivals(t)
	wins := [2]int{}
	for n := range 50 {
		tell("load")
		said := tell(fmt.Sprintf("save %d", n))
		winner := 0
		if said[1] == "saved" {
			winner = 1
		}
		if said[winner] != "saved" || said[1-winner] != "refused" {
			t.Fatalf("saving %d: %q", n, said)
		}
		wins[winner]++
		if text := contents(t, name); text != rivalText(fmt.Sprint(pids[winner]), n) {
			t.Fatalf("saving %d: the file is not the winner's: %d bytes, begins %.40q", n, len(text), text)
		}
	}
	t.Logf("wins: %v", wins)
}

// Two processes each add one to what the file says, again and again: no addition
// is lost.
func TestNoSaveIsLost(t *testing.T) {
	name, _, tell := rivals(t)
	if said := tell("count 100"); said != [2]string{"counted", "counted"} {
		t.Fatal(said)
	}
	text := contents(t, name)
	var who string
	var n int
	if fmt.Sscanf(text, header+"\n# %s %d", &who, &n); n != 200 || text != rivalText(who, n) {
		t.Errorf("%d bytes, begins %.40q", len(text), text)
	}
}
