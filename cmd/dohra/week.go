package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"dohra/db"
	"dohra/schedule"
)

const weekExample = "dohra week 45 45 30 0 45 90 60"

func weekCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:      "week",
		Usage:     "the minutes of each weekday, Monday first, 0 for a day off; or set them; none for every day alike",
		ArgsUsage: "[MINUTES x 7]",
		Action:    d.unlessAlone(runWeek),
	}
}

// unlessAlone is the action of a command that shows what there is when it
// stands alone, and changes it by its words.
func (d *desk) unlessAlone(do func(*call) error) cli.ActionFunc {
	return func(c *cli.Context) error {
		n := reads
		if c.NArg() > 0 {
			n = begins
		}
		return d.with(n, do)(c)
	}
}

func runWeek(k *call) error {
	switch words := k.Args().Slice(); {
	case len(words) == 1 && strings.EqualFold(words[0], "none"):
		if err := k.store.ForgetWeek(); err != nil {
			return err
		}
	case len(words) > 0:
		week, err := readWeek(words)
		if err != nil {
			return err
		}
		if err := k.store.ChooseWeek(week); err != nil {
			return err
		}
	}
	calendar, chosen, err := k.store.Calendar(k.settings.Minutes)
	if err != nil {
		return err
	}
	if err := k.page.print(weekTable(calendar.Week)); err != nil {
		return err
	}
	if !chosen && k.page.format == "table" {
		k.say("\nEvery day is alike. To part them: %s", weekExample)
	}
	return nil
}

var weekdays = []string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}

// readWeek reads the minutes of the seven days.
func readWeek(words []string) (w schedule.Week, err error) {
	if len(words) != len(w) {
		return w, misuse("a week has seven days, Monday first, not %d", len(words)).trying("%s", weekExample)
	}
	for i, word := range words {
		if w[i], err = strconv.Atoi(word); err != nil {
			return w, refuse("minutes are a whole number, not %q", word).trying("%s", weekExample)
		}
	}
	if err := db.CheckWeek(w); err != nil {
		return w, refuse("%v", err)
	}
	return w, nil
}

func weekTable(w schedule.Week) table {
	t := table{columns: []column{
		{key: "weekday", head: "weekday"},
		{key: "minutes", head: "minutes", right: true},
	}}
	for i, minutes := range w {
		t.add(weekdays[i], minutes)
	}
	return t
}

// todaysMinutes returns how many minutes the day has: --minutes, or what the
// calendar says. free is the line that tells of a day without any.
func (k *call) todaysMinutes() (minutes int, free string, err error) {
	if k.IsSet("minutes") {
		minutes, err = minutesFlag(k.Context, 0, db.MaxMinutes)
		return minutes, "", err
	}
	c, _, err := k.store.Calendar(k.settings.Minutes)
	if err != nil {
		return 0, "", err
	}
	if minutes = c.Minutes(k.day); minutes > 0 {
		return minutes, "", nil
	}
	why := "A day off"
	if a, away := c.Away(k.day); away {
		why = fmt.Sprintf("Away until %s", a.To.Short())
	}
	const allTheSame = "To play all the same: dohra today --minutes 20"
	next, ok := c.Next(k.day)
	if !ok {
		return 0, fmt.Sprintf("%s, for the week has no minutes. To give it some: %s", why, weekExample), nil
	}
	return 0, fmt.Sprintf("%s; next is %s, %s. %s", why, next.Short(), plural(c.Minutes(next), "minute"), allTheSame), nil
}
