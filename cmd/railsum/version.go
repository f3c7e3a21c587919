package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// edition is the number of the program; a release sets it when it is linked.
var edition = "0.1.0"

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "show the version",
		Example: "railsum version\nrailsum --version",
		Args:    atMost(0),
		RunE:    func(*cobra.Command, []string) error { return a.version() },
	}
}

// versionFlag makes "railsum --version" say the same.
func (a *app) versionFlag(root *cobra.Command) {
	body := root.RunE
	root.RunE = func(c *cobra.Command, args []string) error {
		if asked, _ := c.Flags().GetBool("version"); asked {
			return a.version()
		}
		return body(c, args)
	}
}

func (a *app) version() error {
	_, err := fmt.Fprintf(a.out, "railsum %s%s, %s\n", edition, commit(), runtime.Version())
	return err
}

// commit is the commit the program was built from, where the build knows it.
func commit() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	return commitOf(info)
}

func commitOf(info *debug.BuildInfo) string {
	revision, changed := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			revision = s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", changed"
		}
	}
	if revision == "" {
		return ""
	}
	return " (" + revision + changed + ")"
}
