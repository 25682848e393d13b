package main

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

func importCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "import",
		Usage:     "take in a pack of pieces (.toml), pieces or plays of a spreadsheet (.csv), or all of another file (.json)",
		ArgsUsage: "FILE",
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "dry-run", Usage: "only show what would change", DisableDefaultText: true},
			&cli.BoolFlag{Name: "replace", Usage: "where a piece differs, take what the file says", DisableDefaultText: true},
		},
		Action: func(c *cli.Context) error {
			text, err := importText(c)
			if err != nil {
				return err
			}
			n := begins
			if c.Bool("dry-run") {
				n = reads
			}
			return d.with(n, func(k *call) error { return runImport(k, text) })(c)
		},
	}
}

// importText reads the file, before a repertoire is begun for it.
func importText(c *cli.Context) ([]byte, error) {
	if c.NArg() != 1 {
		return nil, misuse("import takes one file").trying("dohra import FILE --dry-run")
	}
	path := c.Args().First()
	limits := map[string]int{".toml": repertoire.MaxPack, ".csv": repertoire.MaxSheet, ".json": db.MaxArchive}
	limit, known := limits[kindOf(path)]
	if !known {
		f := refuse("%s: only .toml, .csv and .json can be imported", path)
		if kindOf(path) == ".db" {
			f.trying("dohra restore %s", quoted(path))
		}
		return nil, f
	}
	text, err := readFile(path, limit)
	if err != nil {
		return nil, refuse("%s cannot be read: %v", path, err)
	}
	return text, nil
}

// kindOf returns the end of a file's name, such as .toml.
func kindOf(path string) string { return strings.ToLower(filepath.Ext(path)) }

// A join makes of what is there what will be there, and tells what becomes of
// each piece.
type join func(before db.Archive) (db.Archive, []db.Change, error)

func runImport(k *call, text []byte) error {
	bulky()
	path := k.Args().First()
	plan, sheet, err := k.joinOf(path, text)
	if f := refuse("%s: %v", path, err); errors.Is(err, repertoire.ErrNoTala) {
		return f.trying("%s", talaExample)
	} else if err != nil {
		return f
	}
	var changes []db.Change
	backup := ""
	if k.Bool("dry-run") {
		var now db.Archive
		if now, err = k.store.Archive(); err == nil {
			_, changes, err = plan(now)
		}
	} else {
		tick, wipe := k.progress("storing")
		backup, err = k.store.Change(func(before db.Archive) (after db.Archive, err error) {
			after, changes, err = plan(before)
			return after, err
		}, tick)
		wipe()
	}
	var known *failure
	switch {
	case sheet != nil && sheet.Count() > 0:
		return k.faults(path, sheet)
	case errors.As(err, &known), errors.Is(err, db.ErrDamaged):
		return err
	case err != nil && !errors.Is(err, db.ErrUnchanged):
		return refuse("%s: %v; nothing was imported", path, db.Plain(err))
	}
	return k.sayImported(path, changes, sheet, wasKept(backup), errors.Is(err, db.ErrUnchanged))
}

// sayImported shows what changed, or would.
func (k *call) sayImported(path string, changes []db.Change, sheet *repertoire.Sheet, kept string, unchanged bool) error {
	if err := k.printChanges(changes, kindOf(path) != ".json"); err != nil || k.page.format != "table" {
		return err
	}
	count, plays := map[string]int{}, 0
	for _, c := range changes {
		count[c.State]++
		plays += c.Plays
	}
	asEntries := kindOf(path) == ".toml" || sheet != nil && !sheet.Has("clarity")
	stays := asEntries && count[db.Changed] > 0 && !k.Bool("replace")
	changed := "changed"
	if stays {
		changed = "different"
	}
	line := fmt.Sprintf("%d new, %d %s, %d same", count[db.New], count[db.Changed], changed, count[db.Same])
	if count[db.Kept] > 0 {
		line += fmt.Sprintf(", %d kept", count[db.Kept])
	}
	if plays > 0 {
		line += ", " + plural(plays, "play") + " more"
	}
	switch {
	case k.Bool("dry-run"):
		k.say("%s: %s. Nothing was imported.", path, line)
	case unchanged:
		k.say("%s: %s. Nothing had to be imported.", path, line)
	default:
		k.say("%s: %s.%s", path, line, kept)
	}
	if stays {
		k.say("What differs stays as it is here; --replace takes what the file says.")
	}
	k.sayKept(changes)
	if sheet != nil && len(sheet.Ignored) > 0 {
		k.say("Columns passed over: %s.", strings.Join(sheet.Ignored, ", "))
	}
	return nil
}

// sayKept says what was kept for which reason.
func (k *call) sayKept(changes []db.Change) {
	kept := map[string][]string{}
	for _, c := range changes {
		if c.State == db.Kept {
			kept[c.Why] = append(kept[c.Why], c.Title)
		}
	}
	for _, why := range slices.Sorted(maps.Keys(kept)) {
		k.say("Kept because %s: %s.", why, some(kept[why]))
	}
}

// joinOf reads what is imported.
func (k *call) joinOf(path string, text []byte) (join, *repertoire.Sheet, error) {
	switch kindOf(path) {
	case ".toml":
		pack, err := repertoire.ReadPack(text)
		if err == nil {
			err = k.nameTalas(&pack)
		}
		return k.joinPack(pack), nil, err
	case ".json":
		other, err := db.ReadArchive(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
		if err == nil {
			err = other.CheckDays(k.today + 1) // elsewhere it may be tomorrow
		}
		return func(before db.Archive) (db.Archive, []db.Change, error) {
			after := db.Merge(before, other)
			return after, db.Merged(before, other, after), nil
		}, nil, err
	}
	sheet, err := repertoire.OpenSheet(text, "clarity", "day")
	if err != nil {
		return nil, nil, err
	}
	if sheet.Has("clarity") || sheet.Has("day") {
		return k.joinPlays(text)
	}
	return k.joinEntries(text)
}

// nameTalas gives the talas of a pack's pieces the names under which they are
// known.
func (k *call) nameTalas(pack *repertoire.Pack) error {
	known, err := k.store.Talas()
	known = append(known, pack.Talas...)
	for i, p := range pack.Pieces {
		tala, unknown := repertoire.FindTala(p.Tala, known)
		if unknown != nil {
			return fmt.Errorf("%s: %w", p.Title, unknown)
		}
		pack.Pieces[i].Tala = tala.Name
	}
	return err
}

func (k *call) joinPack(pack repertoire.Pack) join {
	return func(before db.Archive) (db.Archive, []db.Change, error) {
		return before.Join(pack, k.today, k.now().Unix(), k.Bool("replace"))
	}
}

// joinEntries reads a sheet of pieces.
func (k *call) joinEntries(text []byte) (join, *repertoire.Sheet, error) {
	talas, err := k.store.Talas()
	if err != nil {
		return nil, nil, err
	}
	entries, sheet, err := repertoire.ReadEntries(text, talas)
	pack, rows := repertoire.Pack{}, map[string]int{}
	for _, e := range entries {
		pack.Pieces, rows[e.Title] = append(pack.Pieces, e.Entry), e.Row
	}
	return func(before db.Archive) (db.Archive, []db.Change, error) {
		after, changes, err := k.joinPack(pack)(before)
		var wrong db.AfterError
		if errors.As(err, &wrong) {
			for _, m := range wrong {
				if row := rows[m.Title]; row > 0 {
					sheet.Add(repertoire.Fault{Row: row, Column: "after", Value: m.After, Want: m.Want()})
				}
			}
		}
		if sheet.Count() > 0 {
			return before, nil, errFaults
		}
		return after, changes, err
	}, sheet, err
}

// joinPlays reads a sheet of plays.
func (k *call) joinPlays(text []byte) (join, *repertoire.Sheet, error) {
	tick, wipe := k.progress("reading")
	plays, sheet, err := schedule.ReadPlays(text, k.today, tick)
	wipe()
	return func(before db.Archive) (db.Archive, []db.Change, error) {
		found := finder(before)
		byTitle := map[string][]db.Play{}
		for _, p := range plays {
			title, want := found(p.Title)
			if want != "" && p.Title != "" {
				sheet.Add(repertoire.Fault{Row: p.Row, Column: "title", Value: p.Title, Want: want})
			}
			if sheet.More > 0 {
				break // no more would be told, and to look for near titles takes time
			}
			byTitle[title] = append(byTitle[title], db.PlayOf(p.Play))
		}
		if sheet.Count() > 0 {
			return before, nil, errFaults
		}
		after, changes := before.JoinPlays(byTitle)
		return after, changes, nil
	}, sheet, err
}

var errFaults = errors.New("there are faults")

// finder returns a function that finds the folded title which a text means, or
// else says what would do.
func finder(a db.Archive) func(text string) (title, want string) {
	type answer struct{ title, want string }
	known := map[string]answer{}
	titles := make([]db.Named, len(a.Pieces))
	for i, r := range a.Pieces {
		titles[i].Title = r.Title
		known[repertoire.Fold(r.Title)] = answer{title: repertoire.Fold(r.Title)}
	}
	return func(text string) (string, string) {
		found, ok := known[text]
		if !ok {
			if found, ok = known[repertoire.Fold(text)]; !ok {
				found.title, found.want = findPart(titles, repertoire.Fold(text))
			}
			known[text] = found
		}
		return found.title, found.want
	}
}

// findPart finds the folded title of which the text is a part, where that is
// only one.
func findPart(titles []db.Named, folded string) (title, want string) {
	var parts []string
	for _, t := range titles {
		if folded != "" && strings.Contains(repertoire.Fold(t.Title), folded) {
			parts = append(parts, t.Title)
		}
	}
	if len(parts) == 1 {
		return repertoire.Fold(parts[0]), ""
	}
	if len(parts) == 0 {
		for _, near := range nearest(folded, titles) {
			parts = append(parts, near.Title)
		}
	}
	if len(parts) == 0 {
		return "", "the title of a piece that is here; import pieces first"
	}
	return "", "one title, such as " + strings.Join(parts[:min(len(parts), 3)], ", ")
}

// faults shows all that cannot be taken in.
func (k *call) faults(path string, sheet *repertoire.Sheet) error {
	slices.SortStableFunc(sheet.List, func(a, b repertoire.Fault) int { return a.Row - b.Row })
	t := table{columns: []column{
		{key: "row", head: "row", right: true}, {key: "column", head: "column"},
		{key: "value", head: "value"}, {key: "want", head: "what would do", grow: true},
	}}
	for _, f := range sheet.List {
		t.add(f.Row, f.Column, wrap(f.Value, 24), f.Want)
	}
	if err := k.page.print(t); err != nil {
		return err
	}
	f := refuse("%s: %s cannot be taken in; nothing was imported", path, plural(sheet.Count(), "cell"))
	if sheet.More > 0 {
		f = refuse("%s: over %d cells cannot be taken in; nothing was imported", path, repertoire.MaxFaults)
	}
	if slices.ContainsFunc(sheet.List, func(f repertoire.Fault) bool { return f.Column == "tala" && f.Value != "" }) {
		f.trying("%s", talaExample)
	}
	return f
}
