package main

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func showCommand(d *desk) *cli.Command {
	var layas []string
	for _, l := range repertoire.Layas {
		layas = append(layas, l.Name)
	}
	return &cli.Command{
		Name:      "show",
		Usage:     "one piece: where it stands, its bols on the tala, its last plays",
		ArgsUsage: "PIECE",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "laya", Usage: "lay it out at a `RATIO`, ending on sam: " + strings.Join(layas, ", ")},
			&cli.BoolFlag{Name: "khali", Usage: "derive its khali, and say where the one it writes differs", DisableDefaultText: true},
			signsFlag(),
		},
		Action: d.with(reads, runShow),
	}
}

func signsFlag() cli.Flag {
	return &cli.StringFlag{Name: "signs", Usage: "write the tala's signs as `WHO`: bhatkhande (X 2 0 3) or paluskar (1 5 + 13)", DefaultText: "bhatkhande"}
}

// signs reads --signs.
func (k *call) signs() (repertoire.Signs, error) {
	switch repertoire.Fold(k.String("signs")) {
	case "", "bhatkhande":
		return repertoire.Bhatkhande, nil
	case "paluskar":
		return repertoire.Paluskar, nil
	}
	return 0, refuse("%q writes no signs known here; known are bhatkhande, paluskar", k.String("signs"))
}

// lastPlays is how many plays show prints.
const lastPlays = 10

func runShow(k *call) error {
	c, err := k.piece()
	if err != nil {
		return err
	}
	evening, err := k.store.Morning(k.day + 1)
	if err != nil {
		return err
	}
	stood, err := evening.Candidates([]int64{c.ID})
	if err != nil {
		return err
	}
	c = stood[0]
	plays, err := k.store.Plays(c.ID)
	if err != nil {
		return err
	}
	plays = slices.DeleteFunc(plays, func(p schedule.Play) bool { return p.Day > k.day })
	v, err := viewOf(k, c)
	if err != nil {
		return err
	}
	if v.families, err = k.families(c, evening); err != nil {
		return err
	}
	facts := factTable(k, c, len(plays))
	if v.score != nil {
		v.score.addFacts(&facts, c, k.day)
		if v.shares, err = k.shares(*v.score); err != nil {
			return err
		}
		if len(v.shares) > 0 {
			facts.add("shares", shareLine(v.shares))
		}
		v.score.addLines(&facts, plays)
	}
	recent := plays[max(0, len(plays)-lastPlays):]
	switch k.page.format {
	case "json":
		return k.page.json(shownJSON(k, c, v, plays))
	case "csv":
		return k.page.print(slotTable(v.slots))
	case "table":
		return v.screen(k, facts, recent, len(plays))
	}
	return v.document(k, facts, recent)
}

// factTable is what is known of a piece, a line each.
func factTable(k *call, c schedule.Candidate, plays int) table {
	t := table{columns: []column{{key: "fact", head: "fact"}, {key: "value", head: "value"}}}
	t.add("id", c.ID)
	t.add("kind", string(c.Kind))
	t.add("tala", k.talaLine(c.Tala))
	t.add("stage", stageOf(c, k.day))
	t.add("tempos", fmt.Sprintf("start %d, next target %d, goal %d matras/min", c.Start, c.Target(k.day, c.Goal), c.Goal))
	if c.Stage != schedule.Untouched {
		t.add("believed", believed(c, k.day))
	}
	if c.SM2.N > 0 {
		t.add("interval", fmt.Sprintf("%s, ease %d.%02d", schedule.Days(c.SM2.Interval), c.SM2.Ease/100, c.SM2.Ease%100))
	}
	t.add("due", dueDay(c, k.day))
	t.add("played", playedLine(c, plays))
	if c.First != "" {
		t.add("comes after", fmt.Sprintf("%s (%d)", c.First, c.After))
	}
	if c.Teacher != "" {
		t.add("teacher", c.Teacher)
	}
	t.add("added", c.Added.String())
	if c.Note != "" {
		t.add("note", c.Note)
	}
	return t
}

// ahead is how far ahead show says what an untouched piece comes to, days.
const ahead = 30

// believed says what is believed of the player's hands: clean 112 +- 6 today;
// about 97 in a month untouched.
func believed(c schedule.Candidate, day repertoire.Day) string {
	clean, doubt := c.CleanOn(day)
	later, _ := c.CleanOn(day + ahead)
	return fmt.Sprintf("clean %d +- %d today; about %d in a month untouched", clean, doubt, later)
}

func (k *call) talaLine(name string) string {
	tala, err := k.findTala(name)
	if err != nil {
		return name
	}
	return fmt.Sprintf("%s, %d matras", tala.Name, tala.Matras())
}

func playedLine(c schedule.Candidate, plays int) string {
	switch {
	case plays == 0:
		return "never"
	case c.Last == repertoire.Never:
		return plural(plays, "time") + ", but never whole"
	}
	return fmt.Sprintf("%s, last on %s: %d %s", plural(plays, "time"), c.Last.Short(), c.LastTempo, c.LastClarity)
}

func playTable(plays []schedule.Play) table {
	t := table{columns: []column{
		{key: "day", head: "day"},
		{key: "tempo", head: "matras/min", right: true},
		{key: "clarity", head: "clarity"},
		{key: "minutes", head: "min", right: true},
		{key: "how", head: "how"},
		{key: "note", head: "note", grow: true},
	}}
	for _, p := range plays {
		t.add(p.Day.String(), p.Tempo, p.Clarity.String(), known(p.Minutes), p.How(), known(p.Note))
	}
	return t
}

func indentLines(text string) string {
	return "  " + strings.ReplaceAll(text, "\n", "\n  ")
}

// shownJSON is a piece for machines.
func shownJSON(k *call, c schedule.Candidate, v view, plays []schedule.Play) any {
	clean, doubt := c.CleanOn(k.day)
	later, _ := c.CleanOn(k.day + ahead)
	shown := struct {
		ID         int64    `json:"id"`
		Title      string   `json:"title"`
		Kind       string   `json:"kind"`
		Tala       string   `json:"tala"`
		Stage      string   `json:"stage"`
		Start      int      `json:"start_tempo"`
		Clean      any      `json:"clean_tempo"`
		Doubt      any      `json:"clean_tempo_doubt"`
		Later      any      `json:"clean_tempo_in_30_days"`
		Target     int      `json:"target_tempo"`
		Goal       int      `json:"goal_tempo"`
		Interval   int      `json:"interval"`
		Due        any      `json:"due"`
		After      any      `json:"after"`
		Added      string   `json:"added"`
		Bols       string   `json:"bols"`
		Teacher    string   `json:"teacher"`
		Note       string   `json:"note"`
		Matras     int      `json:"matras"`
		Hands      *hands   `json:"hands"`
		Form       string   `json:"form"`
		Shares     []share  `json:"shares"`
		Family     table    `json:"family"`
		Techniques []string `json:"techniques"`
		Fit        string   `json:"fit"`
		Layout     table    `json:"layout"`
		Remarks    []string `json:"remarks"`
		Plays      table    `json:"plays"`
	}{
		ID: c.ID, Title: c.Title, Kind: string(c.Kind), Tala: c.Tala, Stage: stageOf(c, k.day),
		Start: c.Start, Clean: known(clean), Doubt: known(doubt), Later: known(later), Target: c.Target(k.day, c.Goal), Goal: c.Goal,
		Interval: c.SM2.Interval, Due: dueDay(c, k.day), Added: c.Added.String(), Bols: c.Bols, Teacher: c.Teacher, Note: c.Note,
		Matras: c.Matras, Shares: append([]share{}, v.shares...), Family: familyTable(v.families, k.day), Techniques: []string{}, Layout: slotTable(v.slots), Remarks: append([]string{}, v.notes...), Plays: playTable(plays),
	}
	if c.After != 0 {
		shown.After = c.After
	}
	if v.score != nil {
		shown.Hands = handsOf(v.score.Load(), c, k.day)
		_, form := repertoire.FindTihai(v.score.Notation)
		shown.Form = form.String()
		shown.Techniques = append(shown.Techniques, v.score.Techniques()...)
		shown.Fit = v.score.fit()
	}
	return shown
}

// hands is what a piece asks of the hands, for machines.
type hands struct {
	Mean      float64 `json:"strokes_per_matra"`
	Densest   int     `json:"densest_matra"`
	Dayan     int     `json:"right_hand"`
	DayanOpen int     `json:"right_hand_open"`
	Bayan     int     `json:"left_hand"`
	BayanOpen int     `json:"left_hand_open"`
	AtStart   float64 `json:"strokes_per_second_at_start"`
	AtClean   any     `json:"strokes_per_second_at_clean"`
	AtGoal    float64 `json:"strokes_per_second_at_goal"`
	Round     float64 `json:"round_seconds_at_goal"`
}

func handsOf(l repertoire.Load, c schedule.Candidate, day repertoire.Day) *hands {
	number := func(r *big.Rat) float64 {
		f, _ := r.Float64()
		return f
	}
	h := &hands{
		Mean: number(l.Mean), Densest: l.Densest, Dayan: l.Dayan, DayanOpen: l.DayanOpen, Bayan: l.Bayan, BayanOpen: l.BayanOpen,
		AtStart: number(l.PerSecond(c.Start)), AtGoal: number(l.PerSecond(c.Goal)), Round: number(l.Seconds(c.Goal)),
	}
	if clean := cleanOn(c, day); clean > 0 {
		h.AtClean = number(l.PerSecond(clean))
	}
	return h
}
