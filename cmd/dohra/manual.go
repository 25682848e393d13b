package main

import "github.com/urfave/cli/v2"

func manualCommand() *cli.Command {
	return &cli.Command{
		Name:  "manual",
		Usage: "print the man page: dohra manual >dohra.1",
		Action: prints(func(c *cli.Context) (string, error) {
			usageTexts(c.App.Commands, c.App.Name)
			return c.App.ToManWithSection(1)
		}),
	}
}

// usageTexts gives each command the line that says how it is written, which the
// library's man page has and our help makes for itself.
func usageTexts(commands []*cli.Command, before string) {
	for _, c := range commands {
		name := before + " " + c.Name
		c.UsageText = name
		if len(c.VisibleFlags()) > 0 {
			c.UsageText += " [flags]"
		}
		if c.ArgsUsage != "" {
			c.UsageText += " " + c.ArgsUsage
		}
		usageTexts(c.Subcommands, name)
	}
}
