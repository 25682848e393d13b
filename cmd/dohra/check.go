package main

import (
	"errors"
	"os"

	"github.com/urfave/cli/v2"

	"dohra/db"
)

func checkCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:  "check",
		Usage: "look whether the file is sound, and print its digest",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "mend", Usage: "derive the standings anew, or save what a damaged file still gives to a new one", DisableDefaultText: true},
		},
		Action: func(c *cli.Context) error {
			err := d.with(reads, runCheck)(c)
			if errors.Is(err, db.ErrDamaged) || errors.Is(err, db.ErrForeign) {
				return d.salvage(c, err)
			}
			return err
		},
	}
}

func runCheck(k *call) error {
	bulky()
	r, err := k.store.Check()
	if err != nil {
		return err
	}
	if err := k.printReport(r); err != nil {
		return err
	}
	switch {
	case len(r.Problems) > 0:
		return db.ErrDamaged
	case r.Standings > 0 && k.Bool("mend"):
		if err := k.store.Rebuild(); err != nil {
			return err
		}
		k.say("Mended: the standings were derived anew.")
	case r.Standings > 0:
		return refuse("%s: standings are not what the plays say", k.path).trying("dohra check --mend")
	}
	return nil
}

func (k *call) printReport(r db.Report) error {
	if k.page.format == "json" {
		return k.page.json(r)
	}
	t := table{columns: []column{{key: "what", head: "what"}, {key: "found", head: "found", grow: true}}}
	if len(r.Problems) == 0 {
		t.add("pages and rows", "sound")
	}
	for _, problem := range r.Problems {
		t.add("damage", problem)
	}
	t.add("pieces", r.Pieces)
	t.add("plays", r.Plays)
	if r.Standings == 0 {
		t.add("standings", "as the plays say")
	} else {
		t.add("standings", plural(r.Standings, "piece")+" otherwise than the plays say")
	}
	if r.Digest != "" {
		t.add("digest", r.Digest)
	}
	return k.page.print(t)
}

// salvage saves what can be saved when --mend asks for it.
func (d *desk) salvage(c *cli.Context, damage error) error {
	k := &call{Context: c, desk: d}
	path, err := k.filePath()
	if err != nil {
		return err
	}
	if !c.Bool("mend") {
		f := refuse("%v", damage)
		if errors.Is(damage, db.ErrDamaged) {
			f.trying("dohra check --mend, which saves what it can to a new file")
		}
		return f
	}
	saved, err := db.Salvage(path)
	if err != nil {
		return err
	}
	k.say("Saved %s and %s to %s.", plural(saved.Pieces, "piece"), plural(saved.Plays, "play"), saved.Path)
	if saved.Lost > 0 {
		k.say("%s could not be read.", plural(saved.Lost, "row"))
	}
	k.say("The damaged file is left as it is. Look at the new one: dohra --file %s list", saved.Path)
	if backups := db.BackupsOf(path); len(backups) > 0 {
		last := backups[len(backups)-1]
		if info, err := os.Stat(last); err == nil {
			k.say("The newest backup is %s, of %s.", last, info.ModTime().Format("Mon 2 Jan 2006, 15:04"))
		}
	}
	return nil
}
