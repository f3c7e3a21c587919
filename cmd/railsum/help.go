package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// help writes what a command does, examples first.
func (a *app) help(c *cobra.Command, _ []string) {
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
		fmt.Fprint(out, `
exit codes
  0 all is well
  1 a line is in error, or a must fails
  2 wrong use
  3 a file cannot be read or written, or has changed underneath
  4 a file is damaged or from a newer railsum
`)
	}
}

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
