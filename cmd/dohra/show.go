package main

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func showCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "show",
		Usage:     "one piece: where it stands, its bols, its last plays",
		ArgsUsage: "PIECE",
		Action:    d.with(reads, runShow),
	}
}

// lastPlays is how many plays show prints.
const lastPlays = 10

func runShow(k *call) error {
	c, err := k.piece()
	if err != nil {
		return err
	}
	plays, err := k.store.Plays(c.ID)
	if err != nil {
		return err
	}
	if k.page.format == "json" {
		return k.page.json(shownJSON(k, c, plays))
	}
	recent := plays[max(0, len(plays)-lastPlays):]
	if k.page.format == "csv" {
		return k.page.print(playTable(plays))
	}
	facts := factTable(k, c, len(plays))
	if k.page.format != "table" {
		return k.printAll(c.Title, facts, c.Bols, recent)
	}
	k.say("%s", c.Title)
	for _, row := range facts.rows {
		k.say("  %-12s %s", row[0], cellText(row[1]))
	}
	if c.Bols != "" {
		k.say("\n%s", indent(c.Bols))
	}
	if len(recent) == 0 {
		return nil
	}
	k.say("")
	return k.page.print(playTable(recent))
}

// factTable is what is known of a piece, a line each.
func factTable(k *call, c schedule.Candidate, plays int) table {
	t := table{columns: []column{{key: "fact", head: "fact"}, {key: "value", head: "value"}}}
	t.add("id", c.ID)
	t.add("kind", string(c.Kind))
	t.add("tala", talaLine(c.Tala))
	t.add("stage", stageOf(c, k.day))
	t.add("tempos", fmt.Sprintf("start %d, clean %s, next target %d, goal %d matras/min",
		c.Start, matras(c.Clean), c.Target(c.Goal), c.Goal))
	if c.SM2.N > 0 {
		t.add("interval", fmt.Sprintf("%s, ease %d.%02d", schedule.Days(c.SM2.Interval), c.SM2.Ease/100, c.SM2.Ease%100))
	}
	t.add("due", dueDay(c, k.day))
	t.add("played", playedLine(c, plays))
	if c.First != "" {
		t.add("comes after", fmt.Sprintf("%s (%d)", c.First, c.After))
	}
	t.add("added", c.Added.String())
	if c.Note != "" {
		t.add("note", c.Note)
	}
	return t
}

func talaLine(name string) string {
	tala, err := repertoire.FindTala(name)
	if err != nil {
		return name
	}
	return fmt.Sprintf("%s, %d matras", tala.Name, tala.Matras())
}

func playedLine(c schedule.Candidate, plays int) string {
	if plays == 0 {
		return "never"
	}
	return fmt.Sprintf("%s, last on %s: %d %s", plural(plays, "time"), c.Last.Short(), c.LastTempo, c.LastClarity)
}

func playTable(plays []schedule.Play) table {
	t := table{columns: []column{
		{key: "day", head: "day"},
		{key: "tempo", head: "matras/min", right: true},
		{key: "clarity", head: "clarity"},
		{key: "minutes", head: "min", right: true},
		{key: "note", head: "note", grow: true},
	}}
	for _, p := range plays {
		t.add(p.Day.String(), p.Tempo, p.Clarity.String(), tempo(p.Minutes), note(p.Note))
	}
	return t
}

func note(text string) any {
	if text == "" {
		return nil
	}
	return text
}

func indent(text string) string {
	return "  " + strings.ReplaceAll(text, "\n", "\n  ")
}

// shownJSON is a piece for machines.
func shownJSON(k *call, c schedule.Candidate, plays []schedule.Play) any {
	var after any
	if c.After != 0 {
		after = c.After
	}
	return struct {
		ID       int64  `json:"id"`
		Title    string `json:"title"`
		Kind     string `json:"kind"`
		Tala     string `json:"tala"`
		Stage    string `json:"stage"`
		Start    int    `json:"start_tempo"`
		Clean    any    `json:"clean_tempo"`
		Target   int    `json:"target_tempo"`
		Goal     int    `json:"goal_tempo"`
		Interval int    `json:"interval"`
		Due      any    `json:"due"`
		After    any    `json:"after"`
		Added    string `json:"added"`
		Bols     string `json:"bols"`
		Note     string `json:"note"`
		Plays    table  `json:"plays"`
	}{
		c.ID, c.Title, string(c.Kind), c.Tala, stageOf(c, k.day), c.Start, tempo(c.Clean), c.Target(c.Goal), c.Goal,
		c.SM2.Interval, dueDay(c, k.day), after, c.Added.String(), c.Bols, c.Note, playTable(plays),
	}
}

// printAll writes a piece as Markdown or HTML.
func (k *call) printAll(title string, facts table, bols string, plays []schedule.Play) error {
	k.page.heading(title)
	if err := k.page.print(facts); err != nil {
		return err
	}
	k.page.block(bols)
	return k.page.print(playTable(plays))
}
