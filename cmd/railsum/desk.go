package main

import (
	"context"
	"sync"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/cmd/railsum/desk"
	"railsum/library"
)

func (a *app) deskCommand(ready chan<- struct{}) *cobra.Command {
	look := false
	c := &cobra.Command{
		Use:   "desk [FILE]",
		Short: "open the notebook at the prompt",
		Example: `railsum desk                a new notebook
railsum desk gannet.sums    one from a file
railsum desk --look gannet.sums    one that is open at another desk: nothing is saved`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			name := ""
			if len(args) == 1 {
				name = args[0]
			}
			if look && name == "" {
				return misuse("--look is for a notebook that there is").With("name a file")
			}
			return a.desk(cmd.Context(), name, look, ready)
		},
	}
	c.Flags().BoolVar(&look, "look", false, "look only: no lock, no journal, nothing saved")
	return c
}

// desk hands the terminal over. From ready on, interrupts are the desk's.
func (a *app) desk(ctx context.Context, name string, look bool, ready chan<- struct{}) error {
	if err := a.out.Flush(); err != nil {
		return err
	}
	copied, err := a.lesson(name)
	if err != nil {
		return err
	}
	var once sync.Once
	a.note(desk.Run(ctx, desk.Config{
		File:    name,
		Copy:    copied,
		Look:    look,
		NoInput: a.flags.noInput,
		Dir:     a.dir,
		Color:   a.choice(),
		Stdin:   a.stdin,
		Stdout:  a.world.stdout,
		Stderr:  a.world.stderr,
		Getenv:  a.getenv,
		Library: func(dir string) calc.Library { return library.At(dir) },
		Handout: a.handoutTo,
		Ready:   func() { once.Do(func() { close(ready) }) },
	}))
	return nil
}
