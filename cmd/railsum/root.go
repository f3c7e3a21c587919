package main

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"railsum/cmd/railsum/show"
	"railsum/units/words"
)

// root builds the commands. ready is closed when the desk takes the terminal
// and interrupts over.
func (a *app) root(ready chan<- struct{}) *cobra.Command {
	c := &cobra.Command{
		Use:   "railsum",
		Short: "a notebook of sums for the electrics of a model railway layout",
		Long: `Without a command, railsum opens the desk if it talks to a terminal, and reads
standard input if it does not.`,
		Example: `railsum answer '25 m at H0 as mm'               one answer
railsum answer 'use drop with length = 9.5 m'   one sheet, as a card
railsum desk gannet.sums                        the notebook at the prompt
railsum read gannet.sums                        every answer and verdict
railsum sheets wire                             which sheets are about wire
railsum about drop                              what a sheet asks and tells`,
		Args:          a.noCommand,
		SilenceErrors: true,
		SilenceUsage:  true,
		PersistentPreRunE: func(*cobra.Command, []string) error {
			if a.flags.spoken {
				a.getenv = spoken(a.getenv)
			}
			return checkColour(a.flags.color)
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			if a.asks() {
				return a.desk(cmd.Context(), "", false, ready)
			}
			return a.read(cmd.Context(), []string{"-"}, reading{})
		},
	}
	c.SetGlobalNormalizationFunc(british)
	c.PersistentFlags().StringVar(&a.flags.color, "color", show.Auto,
		"colour (--colour is the same): auto, always or never")
	c.PersistentFlags().BoolVar(&a.flags.noColor, "no-color", false, "no colour, as with --color never")
	c.PersistentFlags().BoolVar(&a.flags.spoken, "spoken", false,
		"for a screen reader: a value to a row and no charts, as with RAILSUM_SPOKEN=1")
	c.PersistentFlags().BoolVar(&a.flags.noInput, "no-input", false, "ask nothing and show no prompt, whoever sits there")
	c.PersistentFlags().BoolVar(&a.flags.noPager, "no-pager", false, "long output as it comes")
	c.RegisterFlagCompletionFunc("color", cobra.FixedCompletions([]string{show.Auto, show.Always, show.Never},
		cobra.ShellCompDirectiveNoFileComp))
	c.Flags().Bool("version", false, "show the version")
	c.SetFlagErrorFunc(flagError)
	c.SetHelpFunc(a.help)
	c.SetUsageFunc(func(cmd *cobra.Command) error { a.help(cmd, nil); return nil })
	c.AddCommand(
		a.deskCommand(ready), a.answerCommand(), a.readCommand(), a.compareCommand(), a.handoutCommand(),
		a.presentCommand(ready),
		a.quizCommand(), a.partsCommand(), a.tidyCommand(), a.lessonsCommand(), a.sheetsCommand(),
		a.aboutCommand(), a.versionCommand(),
	)
	c.InitDefaultHelpCmd()
	c.InitDefaultCompletionCmd()
	a.versionFlag(c)
	plainer(c)
	return c
}

// noCommand answers an unknown command.
func (a *app) noCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	cure := "railsum --help lists the commands"
	c.SuggestionsMinimumDistance = 2
	near := c.SuggestionsFor(args[0])
	if meant, sure := a.meant(args); meant != "" && (sure || len(near) == 0) && !strings.HasSuffix(args[0], ".sums") {
		cure = "the call is: " + meant
	} else if len(near) > 0 {
		cure = "did you mean railsum " + near[0] + "?"
	} else if strings.HasSuffix(args[0], ".sums") {
		cure = "did you mean railsum read " + args[0] + ", or railsum desk " + args[0] + "?"
	}
	return misuse("%q is not a command of railsum", args[0]).With(cure)
}

// british lets --colour and --no-colour be --color and --no-color.
func british(_ *pflag.FlagSet, name string) pflag.NormalizedName {
	return pflag.NormalizedName(strings.Replace(name, "colour", "color", 1))
}

func checkColour(choice string) error {
	switch choice {
	case show.Auto, show.Always, show.Never:
		return nil
	}
	return misuse("%q is not a choice for --color", choice).With("write --color auto, --color always or --color never")
}

// flagError gives the flag that may have been meant.
func flagError(c *cobra.Command, err error) error {
	cure := c.CommandPath() + " --help shows what it takes"
	typed := strings.TrimLeft(flagIn(err.Error()), "-")
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, f.Name)
		}
	})
	if near := words.Near(typed, names); len(near) > 0 {
		cure = "did you mean --" + near[0] + "?"
	}
	return misuse("%s", err).With(cure)
}

// flagIn is the flag that an error of the flag parser speaks of.
func flagIn(message string) string {
	for _, word := range strings.Fields(message) {
		if strings.HasPrefix(word, "--") {
			name, _, _ := strings.Cut(word, "=")
			return name
		}
	}
	return ""
}

// needs asks for at least n arguments, and says what they are.
func needs(n int, what, cure string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) < n {
			return misuse("%s needs %s", c.CommandPath(), what).With(cure)
		}
		return nil
	}
}

// atMost allows no more than n arguments.
func atMost(n int) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) > n {
			return misuse("%s does not take %q", c.CommandPath(), args[n]).
				With(c.CommandPath() + " --help shows what it takes")
		}
		return nil
	}
}

// exactly allows one argument alone, as many as are asked for.
func exactly(n int, what, cure string) cobra.PositionalArgs {
	return cobra.MatchAll(needs(n, what, cure), atMost(n))
}

// shelter lets the lines given to answer begin with a minus: whatever is not
// a flag that answer knows is moved behind "--".
func shelter(args []string) []string {
	at := -1
	for i := 0; i < len(args) && at < 0; i++ {
		switch {
		case args[i] == "--":
			return args
		case args[i] == "--color", args[i] == "--colour":
			i++
		case args[i] == "answer":
			at = i
		case !strings.HasPrefix(args[i], "-"):
			return args
		}
	}
	if at < 0 {
		return args
	}
	flags := append([]string{}, args[:at+1]...)
	var lines []string
	for i := at + 1; i < len(args); i++ {
		switch arg := args[i]; {
		case arg == "--":
			lines = append(lines, args[i+1:]...)
			i = len(args)
		case (arg == "--color" || arg == "--colour") && i+1 < len(args):
			i++
			flags = append(flags, arg, args[i])
		case isFlag(arg):
			flags = append(flags, arg)
		default:
			lines = append(lines, arg)
		}
	}
	return append(append(flags, "--"), lines...)
}

// isFlag tells a flag from a line such as "-5 degC" or "--5".
func isFlag(arg string) bool {
	if arg == "-h" {
		return true
	}
	name, ok := strings.CutPrefix(arg, "--")
	return ok && name != "" && name[0] >= 'a' && name[0] <= 'z' && !strings.Contains(name, " ")
}

// spoken is the environment in which output is asked for that can be read aloud.
func spoken(getenv func(string) string) func(string) string {
	return func(name string) string {
		if name == "RAILSUM_SPOKEN" {
			return "1"
		}
		return getenv(name)
	}
}
