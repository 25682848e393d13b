package main

import (
	"errors"
	"fmt"
	"os"
	"slices"

	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
)

func checkCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:  "check",
		Usage: "look whether the file is sound, and print its digest",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "mend", Usage: "derive the standings anew, or save what a damaged file still gives to a new one", DisableDefaultText: true},
		},
		Action: func(c *cli.Context) error {
			var r db.Report
			err := d.with(reads, func(k *call) (err error) {
				r, err = runCheck(k)
				return err
			})(c)
			if errors.Is(err, db.ErrDamaged) || errors.Is(err, db.ErrForeign) || errors.Is(err, db.ErrMarked) {
				return d.salvage(c, r.Problems, err)
			}
			return err
		},
	}
}

// runCheck prints what a check of a file that is not damaged found.
func runCheck(k *call) (db.Report, error) {
	bulky()
	r, err := k.store.Check()
	if err == nil && len(r.Problems) > 0 {
		err = db.ErrDamaged
	}
	if err != nil {
		return r, err
	}
	if err := k.printReport(r); err != nil {
		return r, err
	}
	switch {
	case r.Standings > 0 && k.Bool("mend") && k.barred != nil:
		return r, k.barred
	case r.Standings > 0 && k.Bool("mend"):
		if err := k.store.Rebuild(); err != nil {
			return r, err
		}
		if k.page.format == "table" {
			k.say("Mended: the standings were derived anew.")
		}
	case r.Standings > 0:
		return r, refuse("%s: standings are not what the plays say", k.path).trying("dohra check --mend")
	}
	return r, nil
}

func (k *call) printReport(r db.Report) error {
	if k.page.format == "json" {
		return k.page.json(r)
	}
	t := table{columns: []column{{key: "what", head: "what"}, {key: "found", head: "found", grow: true}}}
	if _, err := os.Stat(k.path); err == nil || k.path == "" {
		t.add("pages and rows", "sound")
	} else {
		t.add("pages and rows", "there is no file yet")
	}
	t.add("pieces", r.Pieces)
	t.add("plays", r.Plays)
	if r.Standings == 0 {
		t.add("standings", "as the plays say")
	} else {
		t.add("standings", plural(r.Standings, "piece")+" otherwise than the plays say")
	}
	t.add("digest", r.Digest)
	return k.page.print(t)
}

// salvage tells what a damaged file still gives, saves it to a new file when
// --mend asks for it, and names the backup to go back to.
func (d *desk) salvage(c *cli.Context, problems []string, damage error) error {
	page, err := newPage(d.out, c.String("format"))
	if err != nil {
		return err
	}
	k := &call{Context: c, desk: d, page: page}
	if k.path, err = k.filePath(); err != nil {
		return err
	}
	read := db.Examine
	if c.Bool("mend") {
		read = db.Salvage
	}
	today := repertoire.DayAt(d.now(), db.DefaultSettings.DayBegins)
	saved, err := read(k.path, today+1) // elsewhere it may be tomorrow
	backup, wayBack := k.fromDamage()
	if err != nil {
		if !c.Bool("mend") {
			err = damage
		}
		return refuse("%v", err).trying("%s", wayBack)
	}
	if len(problems) == 0 {
		problems = []string{damage.Error()}
	}
	if err := k.printDamage(problems, saved); err != nil {
		return err
	}
	if k.page.format == "table" {
		if c.Bool("mend") {
			k.say("\nSaved to %s; look at it: dohra --file %s list", saved.Path, quoted(saved.Path))
			k.say("The damaged file is left as it is.")
		}
		k.say("%s", backup)
		if wayBack != "" {
			k.say("To go back to it: %s", wayBack)
		}
	}
	if !c.Bool("mend") {
		how := k.withFile("dohra check --mend")
		if errors.Is(damage, db.ErrMarked) {
			how = "the program that wrote it; if there is none, " + how
		}
		return errors.Join(k.page.close(), refuse("%v", damage).trying("%s", how))
	}
	return k.page.close()
}

func (k *call) printDamage(problems []string, saved db.Saved) error {
	if k.page.format == "json" {
		return k.page.json(map[string]any{
			"problems": problems, "pieces": saved.Pieces, "plays": saved.Plays,
			"lost_pieces": saved.LostPieces, "lost_plays": saved.LostPlays, "more_lost": saved.More, "saved_to": saved.Path,
		})
	}
	t := table{columns: []column{{key: "what", head: "what"}, {key: "found", head: "found", grow: true}}}
	for _, problem := range problems {
		t.add("damage", problem)
	}
	t.add("pieces", readable(saved.Pieces, saved.LostPieces, saved.More))
	t.add("plays", readable(saved.Plays, saved.LostPlays, saved.More))
	t.add("standings", nil)
	t.add("digest", nil)
	return k.page.print(t)
}

// readable says how much can be read, and how much was there besides; more, that
// there may have been more than that.
func readable(n, lost int, more bool) string {
	text := fmt.Sprintf("%d can be read, ", n)
	switch {
	case lost == 0 && more:
		return text + "more may be lost than can be counted"
	case lost == 0:
		return text + "none is known to be lost"
	}
	if more {
		text += "at least "
	}
	if lost == 1 {
		return text + "1 is lost"
	}
	return text + fmt.Sprintf("%d are lost", lost)
}

// wayBack tells of the newest backup that is sound and holds pieces, and how to
// go back to it from a file that is gone or sound; "" when there is none.
func (k *call) wayBack() (newest, how string) {
	for _, path := range slices.Backward(db.BackupsOf(k.path)) {
		backup, err := db.Read(path)
		if err != nil {
			continue
		}
		r, checkErr := backup.Check()
		a, err := backup.Archive()
		backup.Close()
		info, statErr := os.Stat(path)
		if checkErr != nil || err != nil || statErr != nil || len(r.Problems) > 0 || len(a.Pieces) == 0 {
			continue
		}
		return fmt.Sprintf("The newest sound backup is %s, of %s: %s.", path, info.ModTime().Format("Mon 2 Jan 2006, 15:04"), contents(a)),
			fmt.Sprintf("dohra --file %s restore %s", quoted(k.path), quoted(path))
	}
	return "There is no sound backup with pieces beside it.", ""
}

// fromDamage does the same for a damaged file.
func (k *call) fromDamage() (newest, how string) {
	newest, how = k.wayBack()
	if how == "" {
		return newest, how
	}
	away := fmt.Sprintf("mv -n %s %s", quoted(k.path), quoted(k.path+".damaged"))
	if _, err := os.Stat(k.path + "-wal"); err == nil {
		away += fmt.Sprintf(" && mv -n %s %s", quoted(k.path+"-wal"), quoted(k.path+".damaged-wal"))
	}
	return newest, away + " && " + how
}
