package main

import (
	"encoding/csv"
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"

	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
	"dohra/schedule"
)

func exportCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "export",
		Usage:     "write pieces as a pack (.toml) or for a spreadsheet (.csv), plays (.csv), or all there is (.json)",
		ArgsUsage: "FILE",
		Flags: []cli.Flag{
			&cli.StringSliceFlag{Name: "piece", Usage: "only this `PIECE`; may be given more than once"},
			&cli.StringFlag{Name: "kind", Usage: "only this `KIND`"},
			&cli.StringFlag{Name: "family", Usage: "only this `PIECE` and all that come before and after it"},
			&cli.BoolFlag{Name: "plays", Usage: "write the plays of those pieces", DisableDefaultText: true},
			&cli.BoolFlag{Name: "all", Usage: "write all there is: pieces, plays, talas, concerts, absences and settings", DisableDefaultText: true},
		},
		Action: d.with(copies, runExport),
	}
}

func runExport(k *call) error {
	path, err := k.oneFile()
	if err != nil {
		return err
	}
	ext := kindOf(path)
	chosen := k.IsSet("piece") || k.IsSet("kind") || k.IsSet("family")
	switch {
	case ext != ".toml" && ext != ".csv" && ext != ".json":
		return misuse("export writes a .toml, .csv or .json file").trying("dohra export FILE.toml --kind kaida")
	case k.Bool("all") != (ext == ".json") || k.Bool("all") && (chosen || k.Bool("plays")):
		return misuse("--all writes all, as .json").trying("dohra export --all FILE.json")
	case k.Bool("plays") && ext != ".csv":
		return misuse("--plays writes a .csv file").trying("dohra export --plays FILE.csv")
	}
	bulky()
	all, err := k.store.Archive()
	if err != nil {
		return err
	}
	if k.Bool("all") {
		if err := writeNew(path, all.Write); err != nil {
			return err
		}
		k.say("Wrote %s: %s.", path, contents(all))
		return nil
	}
	records, err := k.chosen(all)
	if err != nil {
		return err
	}
	if len(records) == 0 {
		return refuse("no piece fits, so there is nothing to write")
	}
	if err := writeNew(path, func(w io.Writer) error { return k.write(w, ext, records, all.Talas) }); err != nil {
		return err
	}
	wrote := plural(len(records), "piece")
	if k.Bool("plays") {
		plays := 0
		for _, r := range records {
			plays += len(r.Plays)
		}
		wrote = plural(plays, "play") + " of " + wrote
	}
	k.say("Wrote %s to %s.", wrote, path)
	if missing := outside(records); len(missing) > 0 && ext == ".toml" {
		k.say("Not among them is what some of them come after: %s. --family takes it along.", some(missing))
	}
	return nil
}

// chosen returns the records that the flags ask for.
func (k *call) chosen(all db.Archive) ([]db.Record, error) {
	wanted := map[string]bool{}
	for _, text := range k.StringSlice("piece") {
		c, err := k.find(text)
		if err != nil {
			return nil, err
		}
		wanted[c.Title] = true
	}
	if k.IsSet("family") {
		c, err := k.find(k.String("family"))
		if err != nil {
			return nil, err
		}
		family, err := k.store.Family(c.ID)
		if err != nil {
			return nil, err
		}
		for _, c := range append(family, c) {
			wanted[c.Title] = true
		}
	}
	var kind repertoire.Kind
	if k.IsSet("kind") {
		var err error
		if kind, err = repertoire.ParseKind(k.String("kind")); err != nil {
			return nil, refuse("%v", err)
		}
	}
	named := k.IsSet("piece") || k.IsSet("family")
	return slices.DeleteFunc(slices.Clone(all.Pieces), func(r db.Record) bool {
		return named && !wanted[r.Title] || kind != "" && r.Kind != kind
	}), nil
}

// write writes records as a pack, or as a sheet of pieces or of plays.
func (k *call) write(w io.Writer, ext string, records []db.Record, talas []repertoire.Tala) error {
	pack := packOf(records, talas)
	if ext == ".toml" {
		text, err := pack.Bytes()
		if err == nil {
			_, err = w.Write(text)
		}
		return err
	}
	rows := repertoire.SheetOf(pack.Pieces)
	if k.Bool("plays") {
		rows = [][]string{schedule.PlayColumns()}
		for _, r := range records {
			for _, p := range r.Plays {
				rows = append(rows, schedule.NamedPlay{Title: r.Title, Play: p.Of(0)}.Cells())
			}
		}
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = repertoire.SafeCell(cell)
		}
		out.Write(cells)
	}
	out.Flush()
	return out.Error()
}

// outside returns the titles of what records come after and is not among them.
func outside(records []db.Record) (titles []string) {
	within := map[string]bool{"": true}
	for _, r := range records {
		within[r.Title] = true
	}
	for _, r := range records {
		if !within[r.After] {
			within[r.After] = true
			titles = append(titles, r.After)
		}
	}
	return titles
}

// packOf returns records as a pack, each after the one that must come first
// where that is in the pack, with the player's talas that they are in.
func packOf(records []db.Record, talas []repertoire.Tala) (pack repertoire.Pack) {
	missing, used := outside(records), map[string]bool{}
	for _, r := range records {
		if slices.Contains(missing, r.After) {
			r.After = ""
		}
		used[r.Tala] = true
		pack.Pieces = append(pack.Pieces, r.Entry)
	}
	for _, t := range talas {
		if used[t.Name] {
			pack.Talas = append(pack.Talas, t)
		}
	}
	return pack
}

// writeNew writes a new file, or leaves none. One that is there is left alone.
func writeNew(path string, write func(io.Writer) error) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return refuse("%s is there already", path).trying("another name")
	}
	if err != nil {
		return refuse("%s cannot be written: %v", path, db.PlainFile(err))
	}
	if err := errors.Join(write(f), f.Sync(), f.Close()); err != nil {
		os.Remove(path)
		return refuse("%s cannot be written: %v", path, db.PlainFile(err))
	}
	return nil
}
