package library

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/adrg/xdg"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// Bounds of what is read from a user's folders.
const (
	maxSheet  = 1 << 20 // bytes of one own sheet
	maxListed = 1000    // entries of a folder looked at to suggest a name

	maxListedSheet = 64 << 10 // bytes of an own sheet that is listed and searched
)

// Home is the folder in the user's data home that own sheets are looked for in.
// Empty if there is no such place.
func Home() string {
	if !filepath.IsAbs(xdg.DataHome) {
		return ""
	}
	return filepath.Join(xdg.DataHome, "railsum", "sheets")
}

// folder is a place of own sheets. It may not exist.
type folder struct{ dir string }

// Folders lists where own sheets are looked for, first place first.
func (l *Library) Folders() []string {
	dirs := make([]string, len(l.folders))
	for i, f := range l.folders {
		dirs[i] = f.dir
	}
	return dirs
}

// OwnNames lists the own sheets that lie in the folders, for suggestions and
// completion. Sub-folders are not looked into.
func (l *Library) OwnNames() []string {
	var names []string
	for _, f := range l.folders {
		names = append(names, f.names()...)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// OwnSheets gives the files in the folders that ask or tell something, and so are sheets,
// to be listed and searched: read as they are now, neither kept nor watched. Notebooks,
// which may lie beside them by the hundred, are none.
func (l *Library) OwnSheets() []*calc.Sheet {
	var sheets []*calc.Sheet
	for _, name := range l.OwnNames() {
		for _, f := range l.folders {
			text, err := f.read(name, maxListedSheet)
			if errors.Is(err, fs.ErrNotExist) {
				continue
			}
			if err == nil && asksOrTells.Match(text) {
				sheets = append(sheets, f.sheet(name, text))
			}
			break
		}
	}
	return sheets
}

var asksOrTells = regexp.MustCompile(`(?m)^[ \t]*(ask|take|tell)[ \t]`)

// find reads an own sheet from the first folder that has it. What is there and
// cannot be read is an error, not a reason to look further: else a damaged file
// would be replaced by another one in silence.
func (l *Library) find(name string) (*calc.Sheet, error) {
	for _, f := range l.folders {
		text, err := f.read(name, maxSheet)
		switch {
		case err == nil:
			return f.sheet(name, text), nil
		case !errors.Is(err, fs.ErrNotExist):
			return nil, err
		}
	}
	return nil, l.notFound(name)
}

func (f folder) sheet(name string, text []byte) *calc.Sheet {
	file := syntax.ParseFile(text)
	return &calc.Sheet{Name: name, Own: true, Path: filepath.Join(f.dir, filepath.FromSlash(name)),
		Meaning: meaning(file), File: file}
}

// read gives the text of a file in the folder, which may have so many bytes.
func (f folder) read(name string, most int64) ([]byte, error) {
	root, err := os.OpenRoot(f.dir)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fs.ErrNotExist
		}
		return nil, f.unreadable(name, err)
	}
	defer root.Close()
	// Asked before opening: to open a named pipe waits for its other end.
	info, err := root.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fs.ErrNotExist
	case err != nil:
		return nil, f.unreadable(name, err)
	case !info.Mode().IsRegular():
		return nil, syntax.Diag{Wrong: words.Say("%q in %s is not a file", name, f.dir)}
	case info.Size() > most:
		return nil, f.tooLarge(name, most)
	}
	file, err := root.Open(name)
	if err != nil {
		return nil, f.unreadable(name, err)
	}
	defer file.Close()
	// The size is held to again: a file may grow after it was looked at.
	text, err := io.ReadAll(io.LimitReader(file, most+1))
	switch {
	case err != nil:
		return nil, f.unreadable(name, err)
	case int64(len(text)) > most:
		return nil, f.tooLarge(name, most)
	}
	return text, nil
}

// stamp is how a file is known to be another than it was: where it lies, and what
// the system says of it. It is empty where there is none.
type stamp struct {
	path    string
	size    int64
	changed time.Time
	mode    fs.FileMode
}

// stamp looks at what lies under a name, in the first folder that has it; tables lie
// beside the notebook only.
func (l *Library) stamp(name string) stamp {
	for _, f := range l.folders {
		if !strings.HasSuffix(name, ending) && f.dir != l.beside {
			continue
		}
		path := filepath.Join(f.dir, filepath.FromSlash(name))
		if info, err := os.Stat(path); err == nil {
			return stamp{path, info.Size(), info.ModTime(), info.Mode()}
		}
	}
	return stamp{}
}

// Changed lists the own sheets and the files of tables that were asked for and have changed on the disk
// since, come into being or gone.
func (l *Library) Changed() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	var names []string
	for name, was := range l.seen {
		if is := l.stamp(name); is != was {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// Same lists the own sheets and the files of tables that this library and another have
// both read from one place, as they stand now.
func (l *Library) Same(other *Library) []string {
	var names []string
	for name, was := range l.seen {
		one, err := os.Stat(was.path)
		if err != nil {
			continue // there is none
		}
		if two, err := os.Stat(other.seen[name].path); err == nil && os.SameFile(one, two) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// names lists the sheets that lie directly in the folder.
func (f folder) names() []string {
	dir, err := os.Open(f.dir)
	if err != nil {
		return nil
	}
	defer dir.Close()
	entries, _ := dir.ReadDir(maxListed) // what could be listed is enough to suggest from
	var names []string
	for _, e := range entries {
		if checkName(e.Name()) == nil && !e.IsDir() {
			names = append(names, e.Name())
		}
	}
	return names
}

func (f folder) tooLarge(name string, most int64) error {
	what, cure := "sheet", "a sheet is a page of text; split it in two, one placing the other"
	if !strings.HasSuffix(name, ending) {
		what, cure = "table", "split it in two"
	}
	return syntax.Diag{Wrong: words.Say("%q in %s is larger than a %s may be (%d MB)", name, f.dir, what, most>>20).
		With(cure)}
}

// unreadable tells why a file that is there cannot be read. Links that leave
// the folder end here too; the system's own words for them are kept.
func (f folder) unreadable(name string, err error) error {
	var in *fs.PathError
	if errors.As(err, &in) {
		err = in.Err
	}
	d := syntax.Diag{Wrong: words.Say("%q in %s cannot be read: %v", name, f.dir, err)}
	if strings.Contains(err.Error(), "escapes") {
		d.Message = fmt.Sprintf("%q is a link that leaves %s", name, f.dir)
		d.Cure = "put the file itself into the folder"
	}
	return d
}

// notFound says where a sheet was looked for and what lies there instead.
func (l *Library) notFound(name string) error {
	d := syntax.Diag{Wrong: words.Say("there is no sheet %q of your own", name)}
	if len(l.folders) == 0 {
		d.Message += ", for there is no folder to look in"
		d.Cure = "save the notebook, and put the sheet beside it"
		return d
	}
	d.Message += " in " + words.Or(l.Folders())
	switch plain := strings.TrimSuffix(name, ending); {
	case slices.Contains(l.SheetNames(), plain):
		d.Cure = "for the shipped sheet write it without quotes: use " + plain
	default:
		d.Cure = words.Meant(name, l.OwnNames())
	}
	return d
}
