package main

import (
	"github.com/urfave/cli/v2"

	"dohra/db"
)

func settingsCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:  "settings",
		Usage: "show the settings, or change them",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "minutes", Usage: "plan that many `MINUTES` a day, 1-720"},
			&cli.StringFlag{Name: "day-begins", Usage: "a day begins at that `HOUR` of the clock, 0-12"},
		},
		Action: func(c *cli.Context) error {
			n := reads
			if c.IsSet("minutes") || c.IsSet("day-begins") {
				n = begins
			}
			return d.with(n, runSettings)(c)
		},
	}
}

func runSettings(k *call) (err error) {
	chosen := k.settings
	if k.IsSet("minutes") {
		if chosen.Minutes, err = number(k.Context, "minutes"); err != nil {
			return err
		}
	}
	if k.IsSet("day-begins") {
		if chosen.DayBegins, err = number(k.Context, "day-begins"); err != nil {
			return err
		}
	}
	if err := chosen.Check(); err != nil {
		return refuse("%v", err)
	}
	if chosen != k.settings {
		if err := k.store.Choose(chosen); err != nil {
			return err
		}
	}
	t := table{columns: []column{
		{key: "setting", head: "setting"},
		{key: "value", head: "value", right: true},
		{key: "default", head: "default", right: true},
		{key: "meaning", head: "meaning"},
	}}
	t.add("minutes", chosen.Minutes, db.DefaultSettings.Minutes, "planned for a day, unless week parts them")
	t.add("day-begins", chosen.DayBegins, db.DefaultSettings.DayBegins, "the hour at which a day of practice begins")
	return k.page.print(t)
}
