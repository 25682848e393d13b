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
			&cli.StringFlag{Name: "old-piece", Usage: "keep `PLACES` for an old piece every day, 0 or 1"},
		},
		Action: func(c *cli.Context) error {
			n := reads
			if c.NumFlags() > 0 {
				n = begins
			}
			return d.with(n, runSettings)(c)
		},
	}
}

func runSettings(k *call) (err error) {
	chosen := k.settings
	for flag, value := range map[string]*int{"minutes": &chosen.Minutes, "day-begins": &chosen.DayBegins, "old-piece": &chosen.OldPiece} {
		if k.IsSet(flag) {
			if *value, err = number(k.Context, flag); err != nil {
				return err
			}
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
		{key: "meaning", head: "meaning", grow: true},
	}}
	t.add("minutes", chosen.Minutes, db.DefaultSettings.Minutes, "planned for a day, unless week parts them")
	t.add("day-begins", chosen.DayBegins, db.DefaultSettings.DayBegins, "the hour at which a day of practice begins")
	t.add("old-piece", chosen.OldPiece, db.DefaultSettings.OldPiece, "places that every day keeps for an old piece that fades")
	return k.page.print(t)
}
