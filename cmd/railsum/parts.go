package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
	"railsum/units"
)

func (a *app) partsCommand() *cobra.Command {
	var asCSV bool
	c := &cobra.Command{
		Use:   "parts FILE...",
		Short: "what to buy for one notebook or several",
		Example: `railsum parts gannet.sums
railsum parts --csv gannet.sums marrowby.sums > shop.csv`,
		Long: `What the sheets in use need, and the part lines of the notebooks; what is the same is
added up. A length has the spare of a cut list beside it, else none. --csv has a column for
each field, numbers in SI units.`,
		Args: needs(1, "a file name", "name a file, or - for standard input"),
		RunE: func(cmd *cobra.Command, args []string) error {
			a.paged()
			var all outline.Needs
			for _, name := range args {
				if err := a.partsOf(cmd.Context(), name, len(args) > 1, &all); err != nil {
					a.note(a.report(asFailure(codeFile, err)))
				}
			}
			if asCSV {
				for _, text := range all.Says(units.Unit.String) {
					a.errors().Say("%s", text)
				}
				return a.partsCSV(all.Sorted())
			}
			a.answers().Needs(&all)
			return nil
		},
	}
	c.Flags().BoolVar(&asCSV, "csv", false, "rows with a column for each field")
	return c
}

func (a *app) partsOf(_ context.Context, name string, several bool, all *outline.Needs) error {
	book, err := a.open(name)
	if err != nil {
		return err
	}
	where := ""
	if several {
		where = strings.TrimSuffix(filepath.Base(shown(name)), ".sums") + ": "
	}
	all.Add(book, where)
	bad := 0
	for _, x := range book.All() {
		if len(x.Errors)+len(x.Waiting) > 0 {
			bad++
		}
	}
	if bad > 0 {
		all.Unknown = append(all.Unknown, fmt.Sprintf("lines of %s are in error or wait (%d), and what they need is not listed: "+
			"`railsum read %s --brief` tells them", shown(name), bad, shown(name)))
		a.note(codeWrong)
	}
	return nil
}

// partsCSV writes the fields as columns; a field whose unit is not the same for all parts has it in a column of its
// own.
func (a *app) partsCSV(all []*outline.Need) error {
	keys := slices.DeleteFunc(slices.Clone(syntax.PartFields),
		func(s string) bool { return s == "count" || s == "length" || s == "spare" })
	head := []string{"part", "count", "length (m)", "spare"}
	for _, k := range keys {
		if head = append(head, k); k == "value" || k == "rating" {
			head = append(head, k+" unit")
		} else if unit := siOf[k]; unit != "" {
			head[len(head)-1] = k + " (" + unit + ")"
		}
	}
	w := csv.NewWriter(a.out)
	if err := w.Write(append(head, "for", "look at first")); err != nil {
		return err
	}
	for _, n := range all {
		row := []string{show.Safe(n.What), "", "", ""}
		if n.Count > 0 {
			row[1] = full(n.Count)
		}
		if n.Length > 0 {
			row[2] = full(n.Length)
			row[3] = strings.TrimPrefix(n.Spare(), "with ")
		}
		for _, k := range keys {
			text, unit := "", ""
			for i := range n.Keys {
				if f := &n.Keys[i]; f.Name == k {
					text = f.Value.Cell(0)
					if f.Value.Quantity() {
						text, unit = full(f.Value.Numbers[0]), f.Value.Type.Dim.String()
					}
				}
			}
			if row = append(row, show.Safe(text)); k == "value" || k == "rating" {
				row = append(row, unit)
			}
		}
		if err := w.Write(append(row, show.Safe(strings.Join(n.Places, "; ")), strings.Join(n.Open, ", "))); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// siOf are the SI units of the fields that have one dimension.
var siOf = map[string]string{"volts": "V", "area": "m2"}

// full is a number with all the digits that are its own.
func full(x float64) string { return strconv.FormatFloat(x, 'g', 12, 64) }
