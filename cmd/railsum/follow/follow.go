// Package follow tells when a notebook, or a sheet or table beside it, has been
// saved by another program.
//
// The model: the folder is watched and not the file, for an editor may save by
// putting another file in its place. A save is told once it is over: when nothing
// has come for a moment and the file is whole as far as that can be seen. What the
// system does not tell of, as on a disk of another machine, is looked for.
//
// Not its business: reading the notebook, and what is then shown.
package follow

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

const (
	quiet    = 40 * time.Millisecond  // without news: the save is over
	unsure   = 100 * time.Millisecond // likewise, for a file that looks broken off
	glancing = 500 * time.Millisecond // how often the file is looked at, whatever is told
)

// Saves gives a message after every save of a file, or of a sheet or table in its
// folder, until ctx is done. Saves that nobody has heard of yet are one. The path
// is one without links. The error is that of a folder that cannot be watched.
func Saves(ctx context.Context, path string) (<-chan struct{}, error) {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	if err := w.Add(filepath.Dir(path)); err != nil {
		w.Close()
		return nil, err
	}
	f := &follower{path: path, saves: make(chan struct{}, 1)}
	f.seen = f.state()
	go func() {
		defer w.Close()
		f.run(ctx, w)
	}()
	return f.saves, nil
}

type follower struct {
	path  string
	saves chan struct{}
	seen  state
}

// state is what can be seen of a file without reading it.
type state struct {
	size int64
	when time.Time
}

func (f *follower) state() state {
	info, err := os.Stat(f.path)
	if err != nil {
		return state{size: -1}
	}
	return state{info.Size(), info.ModTime()}
}

func (f *follower) run(ctx context.Context, w *fsnotify.Watcher) {
	over := time.NewTimer(time.Hour) // when the save at hand is over
	over.Stop()
	glance := time.NewTicker(glancing)
	defer glance.Stop()
	var began time.Time // the save that is being waited for, zero for none
	news := func() {
		if began.IsZero() {
			began = time.Now()
		}
		over.Reset(quiet)
	}
	for {
		select {
		case <-ctx.Done():
			return
		case e, open := <-w.Events:
			if !open {
				return
			}
			if f.concerns(e) {
				news()
			}
		case <-w.Errors: // told by looking
		case <-glance.C:
			if f.state() != f.seen && began.IsZero() {
				news()
			}
		case <-over.C:
			if f.brokenOff() && time.Since(began) < unsure {
				over.Reset(quiet / 2)
				continue
			}
			began, f.seen = time.Time{}, f.state()
			select {
			case f.saves <- struct{}{}:
			default: // one is waiting to be heard
			}
		}
	}
}

// beside are the endings of files that a notebook reads besides itself.
var beside = []string{".sums", ".csv", ".tsv", ".txt"}

// concerns reports whether an event is about the file, or about another that the
// notebook may read. Files that editors make for themselves are not.
func (f *follower) concerns(e fsnotify.Event) bool {
	if e.Op == fsnotify.Chmod {
		return false
	}
	base := filepath.Base(e.Name)
	return base == filepath.Base(f.path) ||
		!strings.HasPrefix(base, ".") && slices.Contains(beside, strings.ToLower(filepath.Ext(base)))
}

// brokenOff reports whether the file looks as if somebody were still writing it: it
// is not there, or empty, or does not end with its row.
func (f *follower) brokenOff() bool {
	file, err := os.Open(f.path)
	if err != nil {
		return true
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil || !info.Mode().IsRegular() || info.Size() == 0 {
		return true
	}
	last := make([]byte, 1)
	_, err = file.ReadAt(last, info.Size()-1)
	return err != nil || last[0] != '\n'
}
