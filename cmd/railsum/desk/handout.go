package desk

import (
	"context"
	"errors"
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
	err := d.signals.during(context.Background(), func(ctx context.Context) error {
		err := d.Handout(ctx, d.s.Book(), d.name(), only, d.path(to))
		if ctx.Err() != nil && err != nil {
			return ctx.Err()
		}
		return err
	})
	switch {
	case errors.Is(err, context.Canceled):
		d.note("Stopped; %s is not written.", to)
	case err != nil:
		return err
	default:
		d.note("%s is written.", to)
	}
	return nil
}
