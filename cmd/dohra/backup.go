package main

import (
	"errors"

	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
)

func backupCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "backup",
		Usage:     "copy the repertoire to a new file, or to one beside it, of which ten are kept",
		ArgsUsage: "[FILE]",
		Action:    d.with(copies, runBackup),
	}
}

func runBackup(k *call) error {
	path, err := k.oneFile()
	if err != nil {
		return err
	}
	switch {
	case path == "" && k.path == "":
		return misuse("the demonstration has no place beside it; name a file")
	case path == "" && k.barred != nil:
		return k.barred
	case path == "":
		path, err = k.store.Keep()
	default:
		err = k.store.Backup(path)
	}
	if err != nil {
		return refuse("%v", err).because(err)
	}
	k.say("Backed up to %s.", path)
	return nil
}

// oneFile returns the only word of the command, or "".
func (k *call) oneFile() (string, error) {
	if k.NArg() > 1 {
		return "", misuse("%s takes one file, not %q too", k.Command.Name, k.Args().Get(1))
	}
	return k.Args().First(), nil
}

func restoreCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "restore",
		Usage:     "make the repertoire what a backup is; shows what changes, and asks first",
		ArgsUsage: "FILE",
		Flags:     []cli.Flag{&cli.BoolFlag{Name: "yes", Usage: "do not ask", DisableDefaultText: true}},
		Action: func(c *cli.Context) error {
			err := d.with(begins, runRestore)(c)
			if errors.Is(err, db.ErrDamaged) || errors.Is(err, db.ErrForeign) {
				return refuse("%v", err).trying("move the damaged file away; then the same again makes a new one")
			}
			return err
		},
	}
}

func runRestore(k *call) error {
	path, err := k.oneFile()
	if err != nil {
		return err
	}
	if path == "" {
		f := misuse("restore which file?")
		if backups := db.BackupsOf(k.path); len(backups) > 0 {
			f.trying("dohra restore %s", quoted(backups[len(backups)-1]))
		}
		return f
	}
	backup, err := db.Read(path)
	if err != nil {
		return refuse("%v", err)
	}
	defer backup.Close()
	report, err := backup.Check()
	if err != nil {
		return refuse("%s: %v", path, err)
	}
	if len(report.Problems) > 0 {
		return refuse("%s is damaged: %s", path, report.Problems[0]).trying("dohra --file %s check --mend", quoted(path))
	}
	now, err := k.store.Archive()
	if err != nil {
		return err
	}
	then, err := backup.Archive()
	if err != nil {
		return refuse("%s: %v", path, err)
	}
	if now.Digest() == then.Digest() {
		k.say("%s says the same as the repertoire: nothing to restore.", path)
		return nil
	}
	if err := k.printChanges(db.Changes(now, then), false); err != nil {
		return err
	}
	k.say("Now: %s. In %s: %s.", contents(now), path, contents(then))
	if !k.agreed("Restore it? What is there now is backed up first.") {
		return refuse("nothing was restored")
	}
	kept, err := k.store.Keep()
	if err != nil {
		return refuse("%v", err).because(err)
	}
	if err := k.store.Restore(backup); err != nil {
		return err
	}
	k.say("Restored.%s", wasKept(kept))
	return nil
}

// contents is what an archive holds, in words.
func contents(a db.Archive) string {
	text := plural(len(a.Pieces), "piece") + ", " + plural(a.Plays(), "play")
	if last := a.LastDay(); last != repertoire.Never {
		text += ", the last on " + last.Short()
	}
	return text
}

// wasKept says where the repertoire as it was can be found.
func wasKept(path string) string {
	if path == "" {
		return ""
	}
	return " What was there before is in " + path + "."
}

// changeTable lists what a change does to pieces; same says whether to list
// those of which nothing changes.
func changeTable(changes []db.Change, same bool) table {
	t := table{columns: []column{
		{key: "title", head: "piece", grow: true},
		{key: "state", head: "is"},
		{key: "plays", head: "more plays", right: true},
		{key: "differs", head: "differs in"},
	}}
	for _, c := range changes {
		if same || c.State != db.Same {
			plays := any(nil)
			if c.Plays != 0 {
				plays = c.Plays
			}
			differs := c.Differs
			if c.State == db.Changed && c.Plays == 0 && differs == "" {
				differs = "other plays"
			}
			t.add(c.Title, c.State, plays, wrap(differs, leastWidth/3))
		}
	}
	return t
}

// mostChanges is how many pieces a screen lists; other formats list all.
const mostChanges = 100

// printChanges prints the table, if there is anything to say in it.
func (k *call) printChanges(changes []db.Change, same bool) error {
	t := changeTable(changes, same)
	more := len(t.rows) - mostChanges
	if k.page.format != "table" || more < 0 {
		more = 0
	}
	if t.rows = t.rows[:len(t.rows)-more]; len(t.rows) == 0 && k.page.format == "table" {
		return nil
	}
	err := k.page.print(t)
	if more > 0 {
		k.say("And %s more.", plural(more, "piece"))
	}
	return err
}
