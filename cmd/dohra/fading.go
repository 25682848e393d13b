package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

func fadingCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:  "fading",
		Usage: "what is being lost of the pieces that were kept, the oldest companions first",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "kind", Usage: "only this `KIND`"},
			&cli.StringFlag{Name: "tala", Usage: "only this `TALA`"},
			&cli.StringFlag{Name: "year", Usage: "only what was first played in that `YEAR`"},
			teacherFilter(),
		},
		Action: d.with(reads, runFading),
	}
}

// A companion is a piece that fades, and the day of its first play.
type companion struct {
	schedule.Loss
	since repertoire.Day
}

func runFading(k *call) error {
	wanted, err := filter(k)
	if err != nil {
		return err
	}
	year := 0
	if k.IsSet("year") {
		if year, err = number(k.Context, "year"); err != nil {
			return err
		}
	}
	all, err := k.evening()
	if err != nil {
		return err
	}
	first, err := k.store.FirstPlays()
	if err != nil {
		return err
	}
	var fading []companion
	for _, l := range schedule.Fading(k.day, all) {
		since := first[l.ID]
		if wanted(l.Candidate) && (year == 0 || since.Year() == year) {
			fading = append(fading, companion{l, since})
		}
	}
	slices.SortStableFunc(fading, func(a, b companion) int { return cmp.Compare(a.since, b.since) })
	switch {
	case k.page.format != "table":
		return k.page.print(fadingTable(fading))
	case len(all) == 0:
		k.sayEmpty()
		return nil
	case len(fading) == 0:
		k.say("Nothing that was kept is fading here.")
		return nil
	}
	if err := k.page.print(fadingScreen(fading[:min(len(fading), mostFading)])); err != nil {
		return err
	}
	if more := len(fading) - mostFading; more > 0 {
		k.say("And %s more; --kind, --tala, --year or --teacher asks for fewer.", plural(more, "piece"))
	}
	k.say("\n%s", wrap(fadingLine(fading), k.page.width))
	return nil
}

// mostFading is how many pieces a screen lists; other formats list all.
const mostFading = 1000

// fadingTable is what fades for machines and documents.
func fadingTable(fading []companion) table {
	t := table{columns: []column{
		{key: "id", head: "id", right: true},
		{key: "title", head: "piece"},
		{key: "kind", head: "kind"},
		{key: "tala", head: "tala"},
		{key: "teacher", head: "teacher"},
		{key: "since", head: "first played"},
		{key: "days_untouched", head: "untouched, days", right: true},
		{key: "clean_then", head: "clean then, matras/min", right: true},
		{key: "clean_tempo", head: "clean now", right: true},
		{key: "goal_tempo", head: "goal", right: true},
		{key: "of_goal", head: "now, % of goal", right: true},
		{key: "days_left", head: "days until below 85 %", right: true},
		{key: "minutes", head: "minutes to bring it back", right: true},
	}}
	for _, c := range fading {
		t.add(c.ID, c.Title, string(c.Kind), c.Tala, known(c.Teacher), c.since.String(), c.Untouched, c.Then, c.Now, c.Goal, c.OfGoal(), c.Lasts, c.Minutes)
	}
	return t
}

// fadingScreen is what fades for a terminal.
func fadingScreen(fading []companion) table {
	t := table{columns: []column{
		{head: "\nid", right: true},
		{head: "\npiece", grow: true},
		{head: "\nsince", right: true},
		{head: "days un-\ntouched", right: true},
		{head: "matras/min\nthen > now", right: true},
		{head: "% of\ngoal", right: true},
		{head: "days to\n85 %", right: true},
		{head: "min to", right: true},
		{head: ""},
	}}
	for _, c := range fading {
		lasts, what := any(c.Lasts), "save"
		if c.Lasts == 0 {
			lasts, what = nil, "rebuild"
		}
		t.add(c.ID, c.Title, c.since.Year(), c.Untouched, fmt.Sprintf("%d > %d", c.Then, c.Now), c.OfGoal(), lasts, c.Minutes, what)
	}
	return t
}

// fadingLine sums up what it would take.
func fadingLine(fading []companion) string {
	var save, rebuild []int
	for _, c := range fading {
		if c.Lasts > 0 {
			save = append(save, c.Minutes)
		} else {
			rebuild = append(rebuild, c.Minutes)
		}
	}
	var parts []string
	if len(save) > 0 {
		parts = append(parts, fmt.Sprintf("to save %d: %s", len(save), plural(sum(save), "minute")))
	}
	if len(rebuild) > 0 {
		parts = append(parts, fmt.Sprintf("to rebuild %d that fell below 85 %% of their goal: %s", len(rebuild), plural(sum(rebuild), "minute")))
	}
	line := strings.Join(parts, "; ")
	return strings.ToUpper(line[:1]) + line[1:] + "."
}

func sum(all []int) (n int) {
	for _, m := range all {
		n += m
	}
	return n
}
