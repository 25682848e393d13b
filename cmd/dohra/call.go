package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"
	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
)

// A call is one command at work on an open repertoire.
type call struct {
	*cli.Context
	*desk
	path     string // of the file, or "" for the demonstration
	store    *db.Store
	barred   error // why the store is a copy of a file that may only be read, or nil
	settings db.Settings
	today    repertoire.Day // by the clock
	day      repertoire.Day // the day asked about: --on, or today
	page     page
	unsaid   error // the first answer that could not be written
}

// How a command treats a file that is not there yet.
type need int

const (
	reads  need = iota // answers as for an empty repertoire
	copies             // cannot do without, and only reads it
	writes             // cannot do without
	begins             // makes it
)

// with returns the action of a command: open the repertoire, do it, close.
func (d *desk) with(n need, do func(*call) error) cli.ActionFunc {
	return func(c *cli.Context) (err error) {
		if err := checkWords(c); err != nil {
			return err
		}
		k := &call{Context: c, desk: d}
		if k.page, err = newPage(d.out, c.String("format")); err != nil {
			return err
		}
		var on repertoire.Day
		if c.IsSet("on") {
			if on, err = repertoire.ParseDay(c.String("on")); err != nil {
				return refuse("%v", err)
			}
			if on < firstDay {
				return refuse("%s is too long ago; the first day is %s", on, firstDay)
			}
		}
		defer func() { err = k.again(err) }()
		if err := k.open(n, on); err != nil {
			return err
		}
		defer func() { err = errors.Join(err, k.store.Close()) }()
		k.remind()
		if k.settings, err = k.store.Settings(); err != nil {
			return k.placed(err)
		}
		k.today = repertoire.DayAt(d.now(), k.settings.DayBegins)
		if k.day = k.today; c.IsSet("on") {
			k.day = on
		}
		if err := do(k); err != nil {
			return k.placed(err)
		}
		if k.unsaid != nil && (n == writes || n == begins) {
			return refuse("it is done, but the answer could not be written: %v", k.unsaid)
		}
		if k.unsaid != nil {
			return refuse("the answer could not be written: %v", k.unsaid)
		}
		return k.page.close()
	}
}

// checkWords refuses words where a command takes none.
func checkWords(c *cli.Context) error {
	if c.NArg() > 0 && c.Command.ArgsUsage == "" {
		return misuse("%s takes no words, such as %q", c.Command.Name, c.Args().First()).
			trying("%s --help", c.Command.HelpName)
	}
	return nil
}

// prints is the action of a command that prints a text of the program's own,
// and needs no repertoire.
func prints(text func(*cli.Context) (string, error)) cli.ActionFunc {
	return func(c *cli.Context) error {
		if err := checkWords(c); err != nil {
			return err
		}
		all, err := text(c)
		if err != nil {
			return err
		}
		if _, err := io.WriteString(c.App.Writer, all); err != nil {
			return refuse("the answer could not be written: %v", err)
		}
		return nil
	}
}

// firstDay is the earliest day that can be asked about, 1900-01-01.
const firstDay repertoire.Day = -25567

// again makes what to try after a failure a line for this file, and of damage
// tells where more is said.
func (k *call) again(err error) error {
	var f *failure
	if !errors.As(err, &f) {
		if !errors.Is(err, db.ErrDamaged) {
			return err
		}
		f = refuse("%v", db.Plain(err)).because(err)
		err = f
	}
	if f.try == "" && errors.Is(err, db.ErrDamaged) && k.Command.Name != "check" {
		f.try = "dohra check"
	}
	f.try = k.withFile(f.try)
	return err
}

// withFile gives a line that begins with this program the --file of this call.
func (k *call) withFile(line string) string {
	rest, ours := strings.CutPrefix(line, "dohra ")
	if !ours || !k.IsSet("file") || strings.HasPrefix(rest, "--file ") || strings.HasSuffix(rest, " --help") {
		return line
	}
	return "dohra --file " + quoted(k.String("file")) + " " + rest
}

// remind tells of the backups of a repertoire that is empty or gone.
func (k *call) remind() {
	if k.store != nil {
		if empty, err := k.store.Empty(); err != nil || !empty || k.path == "" || k.Command.Name == "restore" {
			return
		}
	}
	if _, how := k.wayBack(); how != "" {
		fmt.Fprintf(k.errs, "dohra: there are no pieces in %s, but in a backup of it; to go back: %s\n", harmless(k.path), harmless(how))
	}
}

// placed names the file in an error of it that does not.
func (k *call) placed(err error) error {
	var f *failure
	var answer *fs.PathError
	if errors.As(err, &answer) && answer.Path == os.Stdout.Name() {
		return refuse("the answer could not be written: %v", answer.Err)
	}
	if errors.As(err, &f) || k.path == "" {
		return err
	}
	text := db.Plain(err).Error()
	if !strings.Contains(text, k.path) {
		text = k.path + ": " + text
	}
	return refuse("%s", text).because(err)
}

// open opens what the global flags name.
func (k *call) open(n need, on repertoire.Day) (err error) {
	if k.Bool("demo") {
		if k.IsSet("file") {
			return misuse("--demo works on a copy of its own, not on --file")
		}
		if !k.IsSet("on") {
			on = repertoire.DayAt(k.now(), db.DefaultSettings.DayBegins)
		}
		k.store, err = openDemo(on)
		return err
	}
	if k.path, err = k.filePath(); err != nil {
		return err
	}
	if n != reads && n != copies && shared(k.path) {
		fmt.Fprintf(k.errs, "dohra: %s seems to be on a shared or synced disk: log on one machine at a time, or plays may be lost\n", harmless(k.path))
	}
	k.store, err = db.Open(k.path)
	if errors.Is(err, db.ErrStray) {
		return refuse("%v", err).because(err).trying("put that file back, or move %s away", quoted(k.path+"-wal"))
	}
	if err != nil && !errors.Is(err, db.ErrMissing) && (n == reads || n == copies) {
		return k.readCopy(err)
	}
	if !errors.Is(err, db.ErrMissing) {
		return err
	}
	switch n {
	case begins:
		k.store, err = db.Create(k.path)
	case reads:
		k.store, err = db.OpenMemory()
	case copies, writes:
		_, how := k.wayBack()
		err = refuse("there is no repertoire at %s yet", k.path).trying("%s", cmp.Or(how, firstStep))
	}
	return err
}

// readCopy opens a copy, in memory, of a file that cannot be opened for writing,
// being read-only or on a disk without room for the log; why says so.
func (k *call) readCopy(why error) error {
	copied, err := db.Read(k.path)
	switch {
	case errors.Is(err, db.ErrDamaged):
		return err
	case err != nil:
		return why
	}
	k.store, k.barred = copied, why
	return nil
}

// filePath returns where the repertoire is: --file, or $DOHRA_FILE, or the
// player's data folder, which is made when it is missing.
func (k *call) filePath() (string, error) {
	if k.IsSet("file") {
		if k.String("file") == "" {
			return "", misuse("--file needs a path")
		}
		return k.String("file"), nil
	}
	if path := os.Getenv("DOHRA_FILE"); path != "" {
		return path, nil
	}
	if os.Getenv("HOME") == "" && os.Getenv("XDG_DATA_HOME") == "" {
		return "", refuse("without $HOME there is no place for the repertoire").trying("--file PATH, or $DOHRA_FILE")
	}
	folder := filepath.Join(xdg.DataHome, "dohra")
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", refuse("the folder %s cannot be made", folder)
	}
	return filepath.Join(folder, "repertoire.db"), nil
}

// say prints a line of an answer. A terminal gets it wrapped; a program gets it
// whole.
func (k *call) say(format string, args ...any) {
	text := harmless(fmt.Sprintf(format, args...))
	if k.page.terminal && cellWidth(text) > k.page.width {
		text = wrapLines(text, k.page.width)
	}
	if _, err := fmt.Fprintln(k.out, text); err != nil && k.unsaid == nil {
		k.unsaid = err
	}
}
