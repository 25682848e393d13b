package main

import (
	"errors"
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/repertoire"
)

const talaExample = `dohra tala add NAME --vibhags "4 4 4 4" --tali "1 5 13" --khali 9`

func talaCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "tala",
		Usage:     "the talas that are known; or one, with its theka",
		ArgsUsage: "[NAME]",
		Flags:     []cli.Flag{signsFlag()},
		Action:    d.with(reads, runTala),
		Subcommands: []*cli.Command{
			{
				Name:      "add",
				Usage:     "define a tala of your own",
				ArgsUsage: "NAME",
				Flags: []cli.Flag{
					&cli.StringFlag{Name: "vibhags", Usage: "the `MATRAS` of each vibhag, such as \"4 4 4 4\""},
					&cli.StringFlag{Name: "tali", Usage: "the `MATRAS` that are clapped, such as \"1 5 13\""},
					&cli.StringFlag{Name: "khali", Usage: "the `MATRAS` that are waved, such as 9"},
					&cli.StringFlag{Name: "theka", Usage: "its `BOLS`, one cycle"},
				},
				Action: d.with(begins, runTalaAdd),
			},
			{
				Name:      "remove",
				Usage:     "remove a tala of your own that no piece is in",
				ArgsUsage: "NAME",
				Action:    d.with(writes, runTalaRemove),
			},
		},
	}
}

func runTala(k *call) error {
	known, err := k.store.Talas()
	if err != nil {
		return err
	}
	name := strings.Join(k.Args().Slice(), " ")
	if name == "" {
		return k.page.print(talaTable(known))
	}
	tala, err := k.findTala(name)
	if err != nil {
		return err
	}
	return showTala(k, tala)
}

// talaTable lists talas.
func talaTable(talas []repertoire.Tala) table {
	t := table{columns: []column{
		{key: "name", head: "tala"},
		{key: "matras", head: "matras", right: true},
		{key: "vibhags", head: "vibhags"},
		{key: "tali", head: "tali"},
		{key: "khali", head: "khali"},
	}}
	for _, tala := range talas {
		t.add(tala.Name, tala.Matras(), spaced(tala.Vibhags), known(spaced(tala.Tali)), known(spaced(tala.Khali)))
	}
	return t
}

func spaced(list []int) string { return strings.Trim(fmt.Sprint(list), "[]") }

// showTala lays out the theka, or the bare cycle of a tala without one.
func showTala(k *call, tala repertoire.Tala) error {
	signs, err := k.signs()
	if err != nil {
		return err
	}
	theka := tala.Theka
	if theka == "" {
		theka = strings.TrimSpace(strings.Repeat("- ", tala.Matras()-1)) + " dha"
	}
	n, err := repertoire.ReadBols(theka)
	if err != nil {
		return err
	}
	slots := repertoire.LayOut(tala, n, new(big.Rat), big.NewRat(1, 1), signs)
	if tala.Theka == "" {
		for i := range slots {
			slots[i].Text = ""
		}
	}
	if k.page.format == "table" {
		k.say("%s, %d matras in vibhags of %s\ntali on %s, khali on %s\n", tala.Name, tala.Matras(),
			spaced(tala.Vibhags), orNone(tala.Tali), orNone(tala.Khali))
	}
	return k.page.printSlots(slots)
}

// orNone writes a list of matras.
func orNone(list []int) string {
	if len(list) == 0 {
		return "none"
	}
	return spaced(list)
}

func runTalaAdd(k *call) (err error) {
	t := repertoire.Tala{Theka: k.String("theka")}
	if k.NArg() == 0 {
		return misuse("a tala needs a name").trying(`dohra tala add NAME --vibhags "3 4" --tali 1 --khali 4`)
	}
	if t.Name, err = repertoire.CleanTitle(strings.Join(k.Args().Slice(), " ")); err != nil {
		return refuse("the name: %v", err)
	}
	if _, err := k.findTala(t.Name); err == nil {
		return refuse("there is a tala called %s already", t.Name)
	}
	for flag, list := range map[string]*[]int{"vibhags": &t.Vibhags, "tali": &t.Tali, "khali": &t.Khali} {
		if *list, err = numbers(k.String(flag)); err != nil {
			return refuse("--%s takes %v", flag, err)
		}
	}
	if err := t.Check(); err != nil {
		return refuse("%v", err)
	}
	if err := k.store.AddTala(t); err != nil {
		return err
	}
	k.say("Added the tala %s: %d matras.", t.Name, t.Matras())
	return nil
}

// numbers reads a list of whole numbers.
func numbers(text string) ([]int, error) {
	var list []int
	for _, field := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,+", r) }) {
		n, err := strconv.Atoi(field)
		if err != nil || n < 0 || n > 1000 {
			return nil, fmt.Errorf("whole numbers, not %q", field)
		}
		list = append(list, n)
	}
	return list, nil
}

func runTalaRemove(k *call) error {
	tala, err := k.findTala(strings.Join(k.Args().Slice(), " "))
	if err != nil {
		return err
	}
	if _, err := repertoire.FindTala(tala.Name, repertoire.Talas); err == nil {
		return refuse("%s is one of the common talas, which stay", tala.Name)
	}
	if err := k.store.RemoveTala(tala.Name); errors.Is(err, db.ErrInUse) {
		return refuse("%v", err).trying("dohra list --tala %q", tala.Name)
	} else if err != nil {
		return err
	}
	k.say("Removed the tala %s.", tala.Name)
	return nil
}
