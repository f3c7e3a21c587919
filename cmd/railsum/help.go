package main

import (
	_ "embed"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// help writes what a command does, examples first.
func (a *app) help(c *cobra.Command, _ []string) {
	a.paged()
	out := a.answers()
	out.Say("%s: %s", c.CommandPath(), c.Short)
	if c.Example != "" {
		fmt.Fprintf(out, "\nexamples\n%s\n", indented(c.Example))
	}
	fmt.Fprintf(out, "\nusage\n  %s\n", usage(c))
	if c.Long != "" {
		out.Blank()
		out.Text(c.Long)
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprint(out, "\ncommands\n")
		for _, sub := range c.Commands() {
			if sub.IsAvailableCommand() {
				out.Entry(sub.Name(), sub.Short, 13)
			}
		}
	}
	fmt.Fprint(out, "\noptions\n")
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		name := "--" + f.Name
		if f.Value.Type() != "bool" {
			name += " " + strings.ToUpper(f.Name)
		}
		if f.Shorthand != "" {
			name = "-" + f.Shorthand + ", " + name
		}
		out.Entry(name, f.Usage, 19)
	})
	if !c.HasParent() {
		fmt.Fprint(out, "\nexit codes\n")
		for _, e := range exitCodes {
			out.Entry(e.name, e.does, 4)
		}
		fmt.Fprint(out, "\nenvironment\n")
		for _, e := range environment {
			out.Entry(e.name, e.does, 19)
		}
	}
}

// entry is a row of help.
type entry struct{ name, does string }

var exitCodes = []entry{
	{"0", "all is well"},
	{"1", "a line is in error, or a must fails"},
	{"2", "wrong use"},
	{"3", "a file cannot be read or written, or has changed underneath"},
	{"4", "a file is damaged or from a newer railsum"},
}

var environment = []entry{
	{"NO_COLOR", "if not empty, no colour; CLICOLOR_FORCE and CLICOLOR=0 are heeded too"},
	{"PAGER", "shows what is longer than the window; less if there is none, cat for no pager"},
	{"VISUAL, EDITOR", "what edit opens at the desk; vi if there is none"},
	{"RAILSUM_SPOKEN", "if not empty, output for a screen reader, as with --spoken"},
	{"RAILSUM_DEBUG", "if not empty, where an unexpected fault happened"},
	{"XDG_STATE_HOME", "where journals and the lines typed are kept"},
	{"XDG_DATA_HOME", "where sheets of your own are looked for, in railsum/sheets"},
	{"LC_ALL, LANG", "if not UTF-8, signs are spelled in ASCII"},
}

// bashCompletion asks the program itself what may follow. The command library's own
// script calls functions of a package that is not everywhere.
//
//go:embed completion.bash
var bashCompletion string

// usage is how a command is called, its options last.
func usage(c *cobra.Command) string {
	line := c.Use
	if c.HasParent() {
		line = c.Parent().CommandPath() + " " + c.Use
	}
	if c.HasAvailableSubCommands() {
		line += " [COMMAND]"
	}
	return line + " [OPTION...]"
}

func indented(text string) string {
	return "  " + strings.ReplaceAll(strings.TrimSpace(text), "\n", "\n  ")
}

// plainer words what the command library says of its own commands and flags.
func plainer(c *cobra.Command) {
	for _, sub := range c.Commands() {
		switch sub.Name() {
		case "help":
			sub.Short, sub.Long = "help on a command", ""
		case "completion":
			sub.Short, sub.Long = "shell completion of railsum's commands and names", ""
			sub.Example = "railsum completion bash > ~/.local/share/bash-completion/completions/railsum\n" +
				"railsum completion fish > ~/.config/fish/completions/railsum.fish"
			for _, shell := range sub.Commands() {
				shell.Short = "for " + shell.Name()
				if shell.Name() == "bash" {
					shell.Long = "It needs nothing but bash itself."
					shell.RunE, shell.Run = func(c *cobra.Command, _ []string) error {
						_, err := io.WriteString(c.OutOrStdout(), bashCompletion)
						return err
					}, nil
				}
			}
		}
		sub.InitDefaultHelpFlag()
		if f := sub.Flags().Lookup("help"); f != nil {
			f.Usage = "show this help"
		}
	}
	c.InitDefaultHelpFlag()
	c.Flags().Lookup("help").Usage = "show this help"
}
