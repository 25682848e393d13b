package main

import (
	"fmt"
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
			teacherFilter(),
			&cli.StringFlag{Name: "technique", Usage: "only what exercises this `TECHNIQUE`: " + techniques()},
			&cli.StringFlag{Name: "stage", Usage: "only this `STAGE`: " + strings.Join(schedule.Stages, ", ")},
			&cli.BoolFlag{Name: "family", Usage: "as trees: each piece with what comes after it", DisableDefaultText: true},
		},
		Action: d.with(reads, runList),
	}
}

func runList(k *call) error {
	wanted, err := filter(k)
	if err != nil {
		return err
	}
	all, err := k.evening()
	if err != nil {
		return err
	}
	all = byKind(all)
	listed := slices.DeleteFunc(slices.Clone(all), func(c schedule.Candidate) bool { return !wanted(c) })
	switch {
	case k.Bool("family") && len(listed) > 0:
		return listFamilies(k, all, listed)
	case k.page.format != "table":
		return k.page.print(listTable(listed, k.day))
	case len(all) == 0:
		k.sayEmpty()
		return nil
	case len(listed) == 0:
		k.say("None of %s fits.", plural(len(all), "piece"))
		return nil
	}
	return k.page.print(listScreen(listed, k.day))
}

// listTable is the repertoire for machines and documents.
func listTable(pieces []schedule.Candidate, day repertoire.Day) table {
	t := table{columns: []column{
		{key: "id", head: "id", right: true},
		{key: "title", head: "piece"},
		{key: "kind", head: "kind"},
		{key: "tala", head: "tala"},
		{key: "stage", head: "stage"},
		{key: "clean_tempo", head: "clean, matras/min", right: true},
		{key: "goal_tempo", head: "goal, matras/min", right: true},
		{key: "due", head: "due"},
		{key: "teacher", head: "teacher"},
	}}
	for _, c := range pieces {
		t.add(c.ID, c.Title, string(c.Kind), c.Tala, stageOf(c, day), known(cleanOn(c, day)), c.Goal, dueDay(c, day), known(c.Teacher))
	}
	return t
}

// listScreen is the repertoire for a terminal.
func listScreen(pieces []schedule.Candidate, day repertoire.Day) table {
	t := table{columns: []column{
		{head: "\nid", right: true},
		{head: "\npiece", grow: true},
		{head: "\nkind"},
		{head: "\ntala"},
		{head: "\nstage"},
		{head: "matras/min\nclean/goal", right: true},
		{head: "\ndue"},
	}}
	for _, c := range pieces {
		t.add(c.ID, c.Title, string(c.Kind), c.Tala, stageOf(c, day), fmt.Sprintf("%s/%d", orDash(cleanOn(c, day)), c.Goal), dueDay(c, day))
	}
	return t
}

// teacherFilter is the flag of what was learned from a teacher.
func teacherFilter() cli.Flag {
	return &cli.StringFlag{Name: "teacher", Usage: "only what was learned from that `TEACHER`; part of the name is enough"}
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
		found, err := k.findTala(k.String("tala"))
		if err != nil {
			return nil, err
		}
		tala = found.Name
	}
	if k.IsSet("stage") {
		stage = strings.ToLower(k.String("stage"))
		if !slices.Contains(schedule.Stages, stage) {
			return nil, refuse("%q is no stage; the stages are %s", stage, strings.Join(schedule.Stages, ", "))
		}
	}
	var technique string
	if k.IsSet("technique") {
		if technique, err = repertoire.FindTechnique(k.String("technique")); err != nil {
			return nil, refuse("%v", err)
		}
	}
	teacher := repertoire.Fold(k.String("teacher"))
	if k.IsSet("teacher") && teacher == "" {
		return nil, misuse("--teacher needs a name, or part of one")
	}
	text := repertoire.Fold(strings.Join(k.Args().Slice(), " "))
	return func(c schedule.Candidate) bool {
		return (kind == "" || c.Kind == kind) && (tala == "" || c.Tala == tala) &&
			strings.Contains(repertoire.Fold(c.Teacher), teacher) && (stage == "" || stageOf(c, k.day) == stage) &&
			(technique == "" || exercises(c.Bols, technique)) && strings.Contains(repertoire.Fold(c.Title), text)
	}, nil
}

func techniques() string {
	var names []string
	for _, t := range repertoire.Techniques {
		names = append(names, t.Name)
	}
	return strings.Join(names, ", ")
}

// exercises reports whether bols exercise the technique.
func exercises(bols, technique string) bool {
	n, err := repertoire.ReadBols(bols)
	return err == nil && slices.Contains(n.Techniques(), technique)
}

const noPieces = "No pieces yet. Begin: " + firstStep

// sayEmpty tells a first player what to do.
func (k *call) sayEmpty() { k.say(noPieces) }

// stageOf returns the word for where a piece stands on that day.
func stageOf(c schedule.Candidate, day repertoire.Day) string {
	if c.Rests(day) {
		return schedule.Resting.String()
	}
	return c.StageOn(day, c.Goal).String()
}

// cleanOn returns the clean tempo that is believed on that day, 0 while unknown.
func cleanOn(c schedule.Candidate, day repertoire.Day) int {
	clean, _ := c.CleanOn(day)
	return clean
}

// dueDay is a cell: nil for what is untouched or resting.
func dueDay(c schedule.Candidate, day repertoire.Day) any {
	due := c.DueOn(c.Goal)
	if due == repertoire.Never || c.Rests(day) {
		return nil
	}
	return due.String()
}
