package main

import (
	"github.com/spf13/cobra"

	"railsum/library"
)

func (a *app) lessonsCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "lessons",
		Short: "list the lessons, for club evenings",
		Example: `railsum lessons
railsum present lesson:out_and_back`,
		Args: atMost(0),
		RunE: func(*cobra.Command, []string) error {
			out := a.answers()
			for _, l := range library.Lessons() {
				out.Entry(library.LessonPrefix+l.Name, l.Title+". "+l.About, 28)
			}
			return out.Err()
		},
	}
}
