package desk

import (
	"context"
	"path/filepath"
	"strings"
)

// handout writes a page to a file that is not there yet.
func (d *desk) handout(args string) error {
	only, to, found := strings.Cut(" "+args, " to ")
	only, to = strings.Trim(strings.TrimSpace(only), `"`), strings.TrimSpace(to)
	if !found || to == "" || d.Handout == nil {
		return misuse("handout")
	}
	if filepath.Ext(to) == "" {
		to += ".html"
	}
	if err := d.Handout(context.Background(), d.s.Book(), d.name(), only, d.path(to)); err != nil {
		return err
	}
	d.note("%s is written.", to)
	return nil
}
