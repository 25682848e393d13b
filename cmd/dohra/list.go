package main

import (
	"cmp"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func listCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "list",
		Usage:     "the repertoire, by kind as a solo brings them, then by title",
		ArgsUsage: "[TEXT]",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "kind", Usage: "only this `KIND`"},
			&cli.StringFlag{Name: "tala", Usage: "only this `TALA`"},
			&cli.StringFlag{Name: "stage", Usage: "only this `STAGE`: " + strings.Join(schedule.Stages, ", ")},
		},
		Action: d.with(reads, runList),
	}
}

func runList(k *call) error {
	wanted, err := filter(k)
	if err != nil {
		return err
	}
	all, err := k.store.All()
	if err != nil {
		return err
	}
	t := table{columns: []column{
		{key: "id", head: "id", right: true},
		{key: "title", head: "piece", grow: true},
		{key: "kind", head: "kind"},
		{key: "tala", head: "tala"},
		{key: "stage", head: "stage"},
		{key: "clean_tempo", head: "clean, matras/min", screen: "clean\nmatras", right: true},
		{key: "goal_tempo", head: "goal, matras/min", screen: "goal\n/min", right: true},
		{key: "due", head: "due"},
	}}
	slices.SortStableFunc(all, func(a, b schedule.Candidate) int {
		return cmp.Compare(slices.Index(repertoire.Kinds, a.Kind), slices.Index(repertoire.Kinds, b.Kind))
	})
	for _, c := range all {
		if wanted(c) {
			t.add(c.ID, c.Title, string(c.Kind), c.Tala, stageOf(c, k.day), tempo(c.Clean), c.Goal, dueDay(c, k.day))
		}
	}
	if k.page.format == "table" && len(t.rows) == 0 {
		if len(all) == 0 {
			k.sayEmpty()
		} else {
			k.say("None of %d pieces fits.", len(all))
		}
		return nil
	}
	return k.page.print(t)
}

// filter returns what the flags and words of list ask for.
func filter(k *call) (func(schedule.Candidate) bool, error) {
	var kind repertoire.Kind
	var tala, stage string
	var err error
	if k.IsSet("kind") {
		if kind, err = repertoire.ParseKind(k.String("kind")); err != nil {
			return nil, refuse("%v", err)
		}
	}
	if k.IsSet("tala") {
		found, err := repertoire.FindTala(k.String("tala"))
		if err != nil {
			return nil, refuse("%v", err)
		}
		tala = found.Name
	}
	if k.IsSet("stage") {
		stage = strings.ToLower(k.String("stage"))
		if !slices.Contains(schedule.Stages, stage) {
			return nil, refuse("%q is no stage; the stages are %s", stage, strings.Join(schedule.Stages, ", "))
		}
	}
	text := repertoire.Fold(strings.Join(k.Args().Slice(), " "))
	return func(c schedule.Candidate) bool {
		return (kind == "" || c.Kind == kind) && (tala == "" || c.Tala == tala) &&
			(stage == "" || stageOf(c, k.day) == stage) && strings.Contains(repertoire.Fold(c.Title), text)
	}, nil
}

// sayEmpty tells a first player what to do.
func (k *call) sayEmpty() {
	k.say("No pieces yet. Begin: %s", firstStep)
}

// stageOf returns the word for where a piece stands on that day.
func stageOf(c schedule.Candidate, day repertoire.Day) string {
	if c.Rests(day) {
		return schedule.Resting.String()
	}
	return c.Stage.String()
}

// tempo is a cell: nil while the tempo is unknown.
func tempo(t int) any {
	if t == 0 {
		return nil
	}
	return t
}

// dueDay is a cell: nil for what is untouched or resting.
func dueDay(c schedule.Candidate, day repertoire.Day) any {
	if c.Due == repertoire.Never || c.Rests(day) {
		return nil
	}
	return c.Due.String()
}
