package main

import (
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

// What may follow on a line in a shell: after a command its words, after a flag
// its values. Titles come folded, so that they are typed without capitals and
// diacritics; other names as they are kept.

// answers makes every command answer a shell.
func (d *desk) answers(app *cli.App) {
	app.BashComplete = d.answer(cli.DefaultAppComplete, nil)
	for _, c := range app.Commands {
		d.answerFor(c, "")
	}
}

func (d *desk) answerFor(c *cli.Command, parent string) {
	c.BashComplete = d.answer(cli.DefaultCompleteWithFlags(c), wordsOf(c, parent))
	for _, sub := range c.Subcommands {
		d.answerFor(sub, c.Name)
	}
}

// answer prints the values of the flag that was asked for, or else commands,
// flags and words.
func (d *desk) answer(flags cli.BashCompleteFunc, words func(*call) ([]string, error)) cli.BashCompleteFunc {
	return func(c *cli.Context) {
		answers := words
		if d.asked != "" {
			answers = func(k *call) ([]string, error) { return k.valuesOf(d.asked) }
		} else {
			flags(c)
		}
		if answers == nil {
			return
		}
		_ = d.with(reads, func(k *call) error { // a shell has no use for what goes wrong here
			all, err := answers(k)
			for _, one := range all {
				k.say("%s", one)
			}
			return err
		})(c)
	}
}

// hasValues reports whether valuesOf knows any.
func hasValues(flag string) bool {
	return slices.Contains([]string{"after", "piece", "family", "rest", "kind", "tala", "stage", "technique", "teacher", "clarity", "laya", "signs", "format"}, flag)
}

// valuesOf returns the values that may follow a flag, none where any may.
func (k *call) valuesOf(flag string) (all []string, err error) {
	switch flag {
	case "after", "piece", "family", "rest":
		return k.titles()
	case "kind":
		for _, kind := range repertoire.Kinds {
			all = append(all, string(kind))
		}
	case "tala":
		return k.talaNames()
	case "stage":
		return schedule.Stages, nil
	case "technique":
		for _, t := range repertoire.Techniques {
			all = append(all, t.Name)
		}
	case "teacher":
		return k.store.Teachers()
	case "clarity":
		for c := schedule.Lost; c <= schedule.Effortless; c++ {
			all = append(all, c.String())
		}
	case "laya":
		for _, l := range repertoire.Layas {
			all = append(all, l.Name)
		}
	case "signs":
		return []string{"bhatkhande", "paluskar"}, nil
	case "format":
		return formats, nil
	}
	return all, nil
}

// wordsOf returns what finds the words that may follow a command, or nil.
func wordsOf(c *cli.Command, parent string) func(*call) ([]string, error) {
	named := strings.Contains(c.ArgsUsage, "NAME") && c.Name != "add"
	switch {
	case parent == "concert" && c.ArgsUsage == "NAME PIECE":
		return (*call).concertThenPiece
	case parent == "concert" && named:
		return func(k *call) ([]string, error) { return k.following((*call).concertNames, k.Args().Slice()) }
	case parent == "tala" && named:
		return func(k *call) ([]string, error) { return k.following((*call).ownTalaNames, k.Args().Slice()) }
	case named:
		return func(k *call) ([]string, error) { return k.following((*call).talaNames, k.Args().Slice()) }
	case strings.Contains(c.ArgsUsage, "PIECE"):
		return func(k *call) ([]string, error) { return k.following((*call).titles, k.Args().Slice()) }
	case c.Name == "completion":
		return func(*call) ([]string, error) { return []string{"bash", "zsh", "fish"}, nil }
	}
	return nil
}

// concertThenPiece returns the concerts, or after a concert the titles that put
// can put into it, or take can take out.
func (k *call) concertThenPiece() ([]string, error) {
	typed := k.Args().Slice()
	if len(typed) == 0 {
		return k.concertNames()
	}
	c, err := k.concert(typed[0])
	if err != nil {
		return nil, err
	}
	return k.following(func(k *call) (all []string, err error) {
		titles, err := k.store.Titles()
		for _, t := range titles {
			if (c.At(t.ID) >= 0) == (k.Command.Name == "take") {
				all = append(all, repertoire.Fold(t.Title))
			}
		}
		return all, err
	}, typed[1:])
}

// following returns the rest of each name that begins with the words typed.
func (k *call) following(names func(*call) ([]string, error), typed []string) (all []string, err error) {
	begin := strings.Fields(strings.Join(typed, " "))
	found, err := names(k)
	for _, name := range found {
		words := strings.Fields(name)
		if n := len(begin); n < len(words) && repertoire.Fold(strings.Join(words[:n], " ")) == repertoire.Fold(strings.Join(begin, " ")) {
			all = append(all, strings.Join(words[n:], " "))
		}
	}
	return all, err
}

func (k *call) titles() (all []string, err error) {
	titles, err := k.store.Titles()
	for _, t := range titles {
		all = append(all, repertoire.Fold(t.Title))
	}
	return all, err
}

func (k *call) concertNames() (all []string, err error) {
	concerts, err := k.store.Concerts()
	for _, c := range concerts {
		all = append(all, c.Name)
	}
	return all, err
}

func (k *call) talaNames() (all []string, err error) {
	talas, err := k.store.Talas()
	for _, t := range talas {
		all = append(all, t.Name)
	}
	return all, err
}

// ownTalaNames are those that the player added.
func (k *call) ownTalaNames() ([]string, error) {
	all, err := k.talaNames()
	return slices.DeleteFunc(all, func(name string) bool {
		_, err := repertoire.FindTala(name, repertoire.Talas)
		return err == nil
	}), err
}
